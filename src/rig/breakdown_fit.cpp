#include "ohmdrag/rig/breakdown_fit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "ohmdrag/numerics/root.hpp"
#include "ohmdrag/quantity/distribution.hpp"

namespace ohmdrag::rig {

namespace {

/// A function of the standardised ln V with its first two derivatives.
struct Slopes {
  double value, first, second;
};

// Weibull: ln V of the smallest extreme value. F = 1 - exp(-e^z).
Slopes weibull_density(double z) { return {z - std::exp(z), 1.0 - std::exp(z), -std::exp(z)}; }
Slopes weibull_held(double z) { return {-std::exp(z), -std::exp(z), -std::exp(z)}; }
Slopes weibull_broke(double z) {
  const double w = std::exp(z);
  if (w > 700.0) return {0.0, 0.0, 0.0};  // certain; exp(w) leaves the range of doubles
  const double e = std::expm1(w);
  const double first = w / e;
  return {std::log(-std::expm1(-w)), first, first * (1.0 - w * (e + 1.0) / e)};
}

double normal_density(double z) {
  return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
}
/// phi(z)/(1 - Phi(z)).
double normal_hazard(double z) {
  constexpr double far = 30.0;  // beyond, erfc leaves the range of doubles
  if (z > far) return z + 1.0 / z - 2.0 / (z * z * z);
  return normal_density(z) / (0.5 * std::erfc(z / std::numbers::sqrt2));
}
double normal_ln_held(double z) {
  constexpr double far = 30.0;
  if (z > far) return -0.5 * z * z - std::log(normal_hazard(z) * std::sqrt(2.0 * std::numbers::pi));
  return std::log(0.5 * std::erfc(z / std::numbers::sqrt2));
}
Slopes normal_log_density(double z) {
  return {-0.5 * z * z - 0.5 * std::log(2.0 * std::numbers::pi), -z, -1.0};
}
Slopes normal_held(double z) {
  const double h = normal_hazard(z);
  return {normal_ln_held(z), -h, -h * (h - z)};
}
Slopes normal_broke(double z) {
  const double h = normal_hazard(-z);
  return {normal_ln_held(-z), h, -h * (h + z)};
}

Slopes slopes_of(BreakdownLaw law, Evidence evidence, double z) {
  const bool weibull = law == BreakdownLaw::weibull;
  switch (evidence) {
    case Evidence::broke_at:
      return weibull ? weibull_density(z) : normal_log_density(z);
    case Evidence::broke_below:
      return weibull ? weibull_broke(z) : normal_broke(z);
    case Evidence::held:
      break;
  }
  return weibull ? weibull_held(z) : normal_held(z);
}

/// Logarithm of the likelihood over location and ln(spread), with its derivatives.
struct Likelihood {
  double value = 0.0;
  double by_location = 0.0, by_spread = 0.0;
  double location_twice = 0.0, spread_twice = 0.0, mixed = 0.0;

  bool peaked() const {
    return location_twice < 0.0 && spread_twice < 0.0 &&
           location_twice * spread_twice - mixed * mixed > 0.0;
  }
};

Likelihood likelihood_of(std::span<const Trial> trials, BreakdownLaw law, double location,
                         double ln_spread) {
  const double spread = std::exp(ln_spread);
  Likelihood sum;
  for (const Trial& trial : trials) {
    const double ln_V = std::log(trial.voltage.value());
    const double z = (ln_V - location) / spread;
    const auto [value, first, second] = slopes_of(law, trial.evidence, z);
    const bool density = trial.evidence == Evidence::broke_at;
    sum.value += value - (density ? ln_spread + ln_V : 0.0);
    sum.by_location -= first / spread;
    sum.by_spread -= z * first + (density ? 1.0 : 0.0);
    sum.location_twice += second / (spread * spread);
    sum.mixed += (first + z * second) / spread;
    sum.spread_twice += z * first + z * z * second;
  }
  return sum;
}

/// ln V of what broke, mean and deviation: where the search begins.
std::pair<double, double> start_of(std::span<const Trial> trials) {
  double sum = 0.0, squares = 0.0, n = 0.0;
  for (const Trial& trial : trials) {
    if (trial.evidence == Evidence::held) continue;
    const double ln_V = std::log(trial.voltage.value());
    sum += ln_V;
    squares += ln_V * ln_V;
    n += 1.0;
  }
  const double mean = sum / n;
  constexpr double least_deviation = 0.05;
  return {mean, std::max(least_deviation, std::sqrt(std::max(0.0, squares / n - mean * mean)))};
}

/// A Newton step, or along the slope where the likelihood is not bent downwards.
std::pair<double, double> step_from(const Likelihood& at) {
  double location, spread;
  if (at.peaked()) {
    const double det = at.location_twice * at.spread_twice - at.mixed * at.mixed;
    location = -(at.spread_twice * at.by_location - at.mixed * at.by_spread) / det;
    spread = -(at.location_twice * at.by_spread - at.mixed * at.by_location) / det;
  } else {
    const double norm = std::hypot(at.by_location, at.by_spread);
    location = 0.3 * at.by_location / norm;
    spread = 0.3 * at.by_spread / norm;
  }
  // ln V and ln(spread): more than one at a time leaves the neighbourhood that was looked at.
  const double longest = std::max(std::abs(location), std::abs(spread));
  const double within = longest > 1.0 ? 1.0 / longest : 1.0;
  return {location * within, spread * within};
}

double standard_quantile(BreakdownLaw law, double u) {
  return law == BreakdownLaw::weibull ? std::log(-std::log1p(-u)) : normal_quantile(u);
}

/// Intervals of a fit by how far its likelihood falls beside the maximum.
class Profile {
 public:
  Profile(std::span<const Trial> trials, const BreakdownFit& fit) : trials_(trials), fit_(fit) {
    least_ = fit.log_likelihood - 0.5 * normal_95 * normal_95;
  }

  Interval of_ln_quantile(double u) const {
    const double z = standard_quantile(fit_.law, u), mid = fit_.location + fit_.spread * z;
    // The quantile held, ln(spread) runs and takes the location with it.
    const auto best = [&](double ln_V) {
      return highest(std::log(fit_.spread), [&](double ln_spread) {
        const double spread = std::exp(ln_spread);
        const Likelihood at = likelihood_of(trials_, fit_.law, ln_V - spread * z, ln_spread);
        return std::pair{at.value, at.by_spread - spread * z * at.by_location};
      });
    };
    return around(mid, fit_.standard_error_of_ln_quantile(u), best);
  }
  Interval of_spread() const {
    const auto best = [&](double ln_spread) {
      return highest(fit_.location, [&](double location) {
        const Likelihood at = likelihood_of(trials_, fit_.law, location, ln_spread);
        return std::pair{at.value, at.by_location};
      });
    };
    const Interval ln = around(std::log(fit_.spread), std::sqrt(fit_.variance_ln_spread), best);
    return {std::exp(ln.low), fit_.spread, std::exp(ln.high)};
  }

 private:
  /// The highest value along a line, where its slope turns; `at` gives value and slope.
  template <class At>
  static double highest(double start, At at) {
    const auto slope = [&](double x) { return at(x).second; };
    double low = start, high = start, step = 0.05;
    constexpr int farthest = 40;
    const bool upwards = slope(start) > 0.0;
    for (int i = 0; i < farthest; ++i, step *= 2.0) {
      double& end = upwards ? high : low;
      (upwards ? low : high) = end;
      end += upwards ? step : -step;
      if ((slope(end) > 0.0) != upwards) break;
    }
    // The likelihood is flat there: no closer is needed.
    constexpr double close = 1e-4;
    return at(numerics::bracketed_root(slope, low, high, close)).first;
  }

  template <class Best>
  Interval around(double mid, double error, Best best) const {
    const auto end = [&](double sign) {
      double inside = mid, outside = mid + 2.0 * sign * error;
      constexpr int farthest = 8;
      for (int i = 0; best(outside) > least_; ++i) {
        if (i == farthest) return sign * std::numeric_limits<double>::infinity();
        inside = outside;
        outside = mid + 1.6 * (outside - mid);
      }
      // To a thousandth of the standard error.
      return numerics::bracketed_root([&](double x) { return best(x) - least_; },
                                      std::min(inside, outside), std::max(inside, outside),
                                      1e-3 * error);
    };
    return {end(-1.0), mid, end(1.0)};
  }

  std::span<const Trial> trials_;
  const BreakdownFit& fit_;
  double least_;
};

}  // namespace

Voltage BreakdownFit::quantile(double u) const {
  const double z = standard_quantile(law, u);
  return Voltage::from_value(std::exp(location + spread * z));
}

double BreakdownFit::standard_error_of_ln_quantile(double u) const {
  const double z = standard_quantile(law, u);
  const double by_ln_spread = spread * z;
  return std::sqrt(variance_location + by_ln_spread * by_ln_spread * variance_ln_spread +
                   2.0 * by_ln_spread * covariance);
}

double BreakdownFit::aic() const { return 2.0 * 2.0 - 2.0 * log_likelihood; }

double BreakdownFit::aicc() const {
  constexpr double k = 2.0;
  const auto n = static_cast<double>(trials);
  return aic() + 2.0 * k * (k + 1.0) / (n - k - 1.0);
}

BreakdownFit fit_breakdown(std::span<const Trial> trials, BreakdownLaw law) {
  BreakdownFit fit;
  fit.law = law;
  fit.trials = trials.size();
  for (const Trial& trial : trials) {
    if (!(trial.voltage.value() > 0.0 && std::isfinite(trial.voltage.value())))
      throw std::invalid_argument("a breakdown voltage must be positive");
    if (trial.evidence != Evidence::held) ++fit.broke;
  }
  if (fit.broke < fewest_breakdowns) return fit;

  auto [location, deviation] = start_of(trials);
  double ln_spread = std::log(deviation);
  Likelihood at = likelihood_of(trials, law, location, ln_spread);
  constexpr int most_steps = 200;
  // Of ln(spread): narrower is one voltage, wider is none.
  constexpr double narrowest = -9.0, widest = 3.0;
  for (int step = 0; step < most_steps; ++step) {
    const auto [by_location, by_spread] = step_from(at);
    double share = 1.0;
    Likelihood next = likelihood_of(trials, law, location + by_location, ln_spread + by_spread);
    while (!(next.value >= at.value) && share > 1e-9) {
      share *= 0.5;
      next =
          likelihood_of(trials, law, location + share * by_location, ln_spread + share * by_spread);
    }
    if (!(next.value >= at.value)) break;
    location += share * by_location;
    ln_spread += share * by_spread;
    at = next;
    if (!(ln_spread > narrowest && ln_spread < widest)) return fit;
    if (at.peaked() && std::hypot(by_location, by_spread) < 1e-10) break;
  }
  if (!at.peaked()) return fit;
  const double det = at.location_twice * at.spread_twice - at.mixed * at.mixed;
  // A spread known to no better than a factor of e is none.
  constexpr double least_known = 1.0;
  if (!(-at.location_twice / det < least_known)) return fit;
  fit.told = true;
  fit.location = location;
  fit.spread = std::exp(ln_spread);
  fit.variance_location = -at.spread_twice / det;
  fit.variance_ln_spread = -at.location_twice / det;
  fit.covariance = at.mixed / det;
  fit.log_likelihood = at.value;
  const Profile profile(trials, fit);
  const Interval median = profile.of_ln_quantile(0.5), low = profile.of_ln_quantile(0.05);
  fit.median_V = {std::exp(median.low), std::exp(median.mid), std::exp(median.high)};
  fit.at_5_percent_V = {std::exp(low.low), std::exp(low.mid), std::exp(low.high)};
  fit.spread_of_ln_V = profile.of_spread();
  return fit;
}

std::string to_word(BreakdownLaw law) {
  return law == BreakdownLaw::weibull ? "Weibull" : "log-normal";
}

}  // namespace ohmdrag::rig

#include "voltage/motion.hpp"

#include <algorithm>
#include <cmath>

#include "voltage/motion_walk.hpp"

namespace ohmdrag::voltage {

namespace {

/// The crest of the parabola through three samples, where they have one.
struct Crest {
  bool bends = false;
  Sample at;
};
Crest crest(const Sample& a, const Sample& b, const Sample& c) {
  const double before_s = b.t_s - a.t_s, after_s = c.t_s - b.t_s;
  const double rise = (b.v_V - a.v_V) / before_s, next_rise = (c.v_V - b.v_V) / after_s;
  if (!(rise * next_rise <= 0.0) || rise == next_rise) return {};
  const double curvature = 2.0 * (next_rise - rise) / (before_s + after_s);
  const double slope = (rise * after_s + next_rise * before_s) / (before_s + after_s);
  return {true, {b.t_s - slope / curvature, b.v_V - 0.5 * slope * slope / curvature}};
}

/// The stationary point near a time, not outside two bounds.
Sample refined(const Motion& motion, double t_s, double low_s, double high_s) {
  // Newton's method; of its last step the two derivatives know the value to 1e-13.
  constexpr double last_step = 1e-4;
  t_s = std::clamp(t_s, low_s, high_s);
  for (int i = 0; i < 6; ++i) {
    const Local here = local(motion, t_s);
    if (here.curvature == 0.0) return {t_s, here.v_V};
    const double next_s = std::clamp(t_s - here.slope / here.curvature, low_s, high_s);
    const double step_s = next_s - t_s;
    t_s = next_s;
    if (std::abs(step_s) <= last_step * (high_s - low_s))
      return {t_s, here.v_V + step_s * (here.slope + 0.5 * step_s * here.curvature)};
  }
  return {t_s, value_V(motion, t_s)};
}

/// Where sign * v passes the level between two samples of it, one above and one not.
double crossing_s(const Motion& motion, double sign, double level_V, const Sample& low,
                  const Sample& high) {
  // Newton's method from the secant; a step out of the bracket halves it. What a step leaves goes
  // with its square and the bend of the curve.
  constexpr double left_over = 1e-6;
  const double low_V = low.v_V - level_V, high_V = high.v_V - level_V;
  const double tolerance_s = left_over * (high.t_s - low.t_s);
  const bool falls = low_V > 0.0;
  double low_s = low.t_s, high_s = high.t_s;
  double t_s = low_s + (high_s - low_s) * low_V / (low_V - high_V);
  constexpr int most_steps = 60;  // halve any bracket to the last digit
  for (int step = 0; step < most_steps && high_s - low_s > tolerance_s; ++step) {
    const Local here = local(motion, t_s);
    const double excess_V = sign * here.v_V - level_V;
    ((excess_V > 0.0) == falls ? low_s : high_s) = t_s;
    const double step_s = -excess_V / (sign * here.slope), next_s = t_s + step_s;
    const bool inside = next_s > low_s && next_s < high_s;
    const double left_s = 0.5 * std::abs(here.curvature / here.slope) * step_s * step_s;
    if (inside && left_s <= tolerance_s) return next_s;
    t_s = inside ? next_s : 0.5 * (low_s + high_s);
  }
  return t_s;
}

/// Whether v only rises or only falls. Of terms that do not swing it is certain where those against
/// the first slope of all fade the sooner ones: what is left of the others outweighs them more and
/// more.
bool goes_one_way(const Motion& motion) {
  double total = 0.0, steepest = 0.0;
  for (const Term& term : motion) {
    if (term.rate_per_s.imag() != 0.0) return false;
    total += first_slope(term).real();
    steepest = std::max(steepest, size(first_slope(term)));
  }
  if (total == 0.0) return steepest == 0.0;
  double fastest_along = 0.0, slowest_against = -never_s;
  for (const Term& term : motion) {
    const double rate = term.rate_per_s.real(), along = first_slope(term).real() * total;
    if (along > 0.0) fastest_along = std::min(fastest_along, rate);
    if (along < 0.0) slowest_against = std::max(slowest_against, rate);
  }
  return slowest_against <= fastest_along;
}

/// Whether the slopes at the start, which none grows beyond, prove that sign * v stays above the
/// level from the start to a time.
bool stays_above(const Motion& motion, double sign, double level_V, double until_s) {
  double first_V = 0.0, fall = 0.0, rise = 0.0;
  for (const Term& term : motion) {
    if (term.rate_per_s.real() > 0.0) return false;
    const std::complex<double> slope = first_slope(term);
    first_V += sign * term.free_V.real();
    const bool swings = term.rate_per_s.imag() != 0.0;
    fall += swings ? size(slope) : std::max(0.0, -sign * slope.real());
    rise += swings ? size(slope) : std::max(0.0, sign * slope.real());
  }
  if (!(first_V > level_V)) return false;
  if (first_V - fall * until_s > level_V) return true;
  // Down from the start as steeply as can be, up to the end likewise.
  const double last_V = sign * value_V(motion, until_s);
  return last_V > level_V &&
         first_V * rise + last_V * fall - fall * rise * until_s > level_V * (fall + rise);
}

}  // namespace

double value_V(const Motion& motion, double t_s) { return local(motion, t_s).v_V; }

Local local(const Motion& motion, double t_s) {
  Local sum;
  for (const Term& term : motion) {
    if (term.rate_per_s.imag() == 0.0) {  // no swing: the imaginary parts never show
      const double rate = term.rate_per_s.real(), grown = std::expm1(rate * t_s);
      const double free_V = term.free_V.real(), driven = term.driven_V_per_s.real();
      const double slope = (free_V * rate + driven) * (1.0 + grown);
      sum.v_V += free_V * (1.0 + grown) + driven * (rate == 0.0 ? t_s : grown / rate);
      sum.slope += slope;
      sum.curvature += slope * rate;
      continue;
    }
    const bool is_free = term.driven_V_per_s == 0.0;
    const std::complex<double> grown =
        is_free ? std::complex<double>{} : exp_less_one(term.rate_per_s * t_s);
    const std::complex<double> left = is_free ? std::exp(term.rate_per_s * t_s) : 1.0 + grown;
    const std::complex<double> slope =
        product(product(term.free_V, term.rate_per_s) + term.driven_V_per_s, left);
    sum.v_V += product(term.free_V, left).real();
    if (!is_free) sum.v_V += product(term.driven_V_per_s, quotient(grown, term.rate_per_s)).real();
    sum.slope += slope.real();
    sum.curvature += product(slope, term.rate_per_s).real();
  }
  return sum;
}

void add_oscillation(Motion& motion, const StepModes& modes, double amplitude_V,
                     std::complex<double> s_per_s) {
  // A source exactly on a mode has no forced part of this form. Step aside by a millionth, which
  // moves the result by no more.
  for (const StepMode& mode : modes.all())
    if (size(s_per_s - mode.rate_per_s) < 1e-7 * size(s_per_s)) s_per_s *= 1.0 + 1e-6;
  constexpr std::complex<double> i{0.0, 1.0};
  std::complex<double> forced_V;
  for (std::size_t k = 0; k < modes.all().size(); ++k) {
    const StepMode& mode = modes.all()[k];
    const bool pair = mode.rate_per_s.imag() != 0.0;
    const std::complex<double> weight = pair ? 0.5 * mode.weight : mode.weight;
    const std::complex<double> driven = product(amplitude_V * s_per_s, weight);
    const std::complex<double> own = quotient(driven, s_per_s - mode.rate_per_s);
    if (!pair) {
      motion[k].free_V -= own.imag();
      forced_V += own;
      continue;
    }
    const std::complex<double> mirrored = quotient(
        product(amplitude_V * s_per_s, std::conj(weight)), s_per_s - std::conj(mode.rate_per_s));
    motion[k].free_V += i * (own - std::conj(mirrored));
    forced_V += own + mirrored;
  }
  motion.push_back({s_per_s, -i * forced_V, 0.0});
}

Peak largest(const Motion& motion, double end_s, Peak best) {
  if (motion.empty() || goes_one_way(motion)) return best;
  constexpr long most_samples = 200'000;  // two undamped swings: their pattern has repeated by then
  constexpr int between_bounds = 8;
  Walk walk(motion, std::isfinite(end_s) ? 0.5 * end_s : 1.0);
  walk.start_before(0.0);
  Sample a{walk.t_s(), walk.v_V()};
  walk.advance();
  Sample b{walk.t_s(), walk.v_V()};
  for (long n = 0; n < most_samples && b.t_s < end_s + walk.step_s(); ++n) {
    walk.advance();
    const Sample c{walk.t_s(), walk.v_V()};
    const Crest top = crest(a, b, c);
    bool higher = false;
    if (top.bends && std::abs(top.at.v_V) > 0.99 * best.magnitude_V() && c.t_s > 0.0 &&
        a.t_s < end_s) {
      const Sample exact =
          refined(motion, top.at.t_s, std::max(a.t_s, 0.0), std::min(c.t_s, end_s));
      higher = std::abs(exact.v_V) > best.magnitude_V();
      if (higher) best = {exact.v_V, exact.t_s};
    }
    if ((higher || n % between_bounds == 0) && !std::isfinite(end_s) &&
        walk.bound_V() <= (1.0 + 5e-5) * best.magnitude_V())
      break;
    a = b;
    b = c;
  }
  return best;
}

double first_below_s(const Motion& motion, double sign, double level_V, double from_s,
                     double end_s) {
  if (!(from_s < end_s)) return end_s;
  constexpr int between_leaps = 16;
  const auto not_before = [&](const Sample& sample) {
    return sample.t_s >= from_s ? sample : Sample{from_s, sign * value_V(motion, from_s)};
  };
  Walk walk(motion, 0.5 * (end_s - from_s));
  const auto next = [&] {
    walk.advance();
    return Sample{walk.t_s(), sign * walk.v_V()};
  };
  double above_until_s = from_s;
  while (true) {
    above_until_s = walk.above_until_s(sign, level_V, above_until_s, end_s);
    if (above_until_s >= end_s) return end_s;
    walk.start_before(above_until_s);
    Sample a{walk.t_s(), sign * walk.v_V()}, b = next();
    for (int n = 0; n < between_leaps; ++n) {
      Sample c = next();
      const Crest low = crest(a, b, c);
      // Where the parabola misses a dip by less than it may be wrong, the motion itself decides.
      const double unsure_V = 0.01 * std::abs(a.v_V - 2.0 * b.v_V + c.v_V);
      if (low.bends && low.at.v_V <= level_V + unsure_V && b.v_V > level_V && c.v_V > level_V &&
          low.at.t_s > from_s) {
        Sample exact = refined(motion, low.at.t_s, std::max(a.t_s, from_s), c.t_s);
        exact.v_V *= sign;
        if (exact.v_V <= level_V)
          return std::min(end_s, crossing_s(motion, sign, level_V, not_before(a), exact));
      }
      if (c.v_V <= level_V && c.v_V > level_V - walk.unsure_V())
        c.v_V = sign * value_V(motion, c.t_s);
      if (c.v_V <= level_V)
        return std::min(end_s, crossing_s(motion, sign, level_V, not_before(b), c));
      if (c.t_s >= end_s) return end_s;
      a = b;
      b = c;
    }
    above_until_s = b.t_s;
  }
}

std::optional<double> last_below_s(const Motion& motion, double sign, double level_V,
                                   double until_s) {
  if (!(until_s > 0.0) || stays_above(motion, sign, level_V, until_s)) return std::nullopt;
  const auto exact = [&](double t_s) { return Sample{t_s, sign * value_V(motion, t_s)}; };
  if (goes_one_way(motion)) {
    const Sample first = exact(0.0), last = exact(until_s);
    if (!(first.v_V <= level_V && last.v_V > level_V)) return std::nullopt;
    return crossing_s(motion, sign, level_V, first, last);
  }
  Walk walk(motion, 0.5 * until_s);
  walk.start_before(0.0);
  walk.advance();
  Sample last{0.0, sign * walk.v_V()};
  std::optional<std::pair<Sample, Sample>> around;
  while (last.t_s < until_s) {
    walk.advance();
    const Sample next =
        walk.t_s() > until_s ? exact(until_s) : Sample{walk.t_s(), sign * walk.v_V()};
    if (last.v_V <= level_V && next.v_V > level_V) around = {last, next};
    last = next;
  }
  if (!around) return std::nullopt;
  return crossing_s(motion, sign, level_V, around->first, around->second);
}

}  // namespace ohmdrag::voltage

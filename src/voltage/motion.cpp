#include "voltage/motion.hpp"

#include <algorithm>
#include <boost/container/small_vector.hpp>
#include <cmath>

namespace ohmdrag::voltage {

namespace {

// Products and quotients without the care for infinities that the library takes.

std::complex<double> product(std::complex<double> a, std::complex<double> b) {
  return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

/// \pre b is of a size whose square is a number
std::complex<double> quotient(std::complex<double> a, std::complex<double> b) {
  const double per_square = 1.0 / (b.real() * b.real() + b.imag() * b.imag());
  return product(a, {b.real() * per_square, -b.imag() * per_square});
}

/// Of most motions there are no more terms.
constexpr std::size_t usual_terms = 6;

/// Sample distance over 1/|rate|: a parabola through three samples of a sine misses its crest by
/// less than 1e-4.
constexpr double sample_angle = 0.4;
/// A term below this share of the largest one no longer sets the distance of samples.
constexpr double negligible = 3e-5;

/// Samples of a motion at distances that grow as its fast terms die out.
class Walk {
 public:
  Walk(const Motion& motion, double from_s, double longest_step_s)
      : motion_(motion), t_s_(from_s), longest_step_s_(longest_step_s) {
    // What a slope adds counts for as long as the walk takes: a slow term has no other size.
    const double walked_s = 2.0 * longest_step_s;
    boost::container::small_vector<double, usual_terms> sizes_V;
    for (const Term& term : motion) {
      const double rate = std::abs(term.rate_per_s);
      steady_V_ += term.free_V.real();
      Running running;
      if (rate > 0.0)
        running.amplitude_V = term.free_V + quotient(term.driven_V_per_s, term.rate_per_s);
      else
        line_V_per_s_ += term.driven_V_per_s.real();
      running_.push_back(running);
      sizes_V.push_back(std::abs(term.free_V) +
                        std::abs(term.driven_V_per_s) * std::min(walked_s, 1.0 / rate));
    }
    const double least_V = negligible * *std::ranges::max_element(sizes_V);
    for (std::size_t k = 0; k < motion.size(); ++k) {
      const double decay = -motion[k].rate_per_s.real();
      if (sizes_V[k] > least_V && motion[k].rate_per_s != 0.0)
        running_[k].counts_until_s = decay > 0.0 ? std::log(sizes_V[k] / least_V) / decay : never_s;
    }
    set_step();
    // One step back: a stationary point right after the start lies between samples, too.
    t_s_ -= step_s_;
    anchor();
  }

  double t_s() const { return t_s_; }
  double step_s() const { return step_s_; }

  double v_V() const {
    double v = steady_V_ + rested_V_ + line_V_per_s_ * t_s_;
    for (const Still& s : still_) v += s.amplitude_V * s.grown;
    for (const Swinging& s : swinging_)
      v += s.amplitude_V.real() * s.grown.real() - s.amplitude_V.imag() * s.grown.imag();
    return v;
  }

  void advance() {
    t_s_ += step_s_;
    if (t_s_ > next_change_s_) {
      set_step();
      anchor();
      return;
    }
    for (Still& s : still_) s.grown += s.factor + s.grown * s.factor;
    for (Swinging& s : swinging_) s.grown += s.factor + product(s.grown, s.factor);
  }

  /// No later |v| is above this; for motions that nothing drives.
  double bound_V() const {
    double sum_V = 0.0;
    for (std::size_t k = 0; k < running_.size(); ++k)
      sum_V += std::abs(motion_[k].free_V) * std::exp(motion_[k].rate_per_s.real() * t_s_);
    return sum_V;
  }

 private:
  struct Running {
    std::complex<double> amplitude_V;
    double counts_until_s = -never_s;
  };
  /// A term that runs, whether it swings or not.
  template <class Number>
  struct Grown {
    Number amplitude_V;
    Number grown;   ///< exp(rate t) - 1
    Number factor;  ///< exp(rate step) - 1
  };
  using Still = Grown<double>;
  using Swinging = Grown<std::complex<double>>;

  void set_step() {
    step_s_ = longest_step_s_;
    next_change_s_ = never_s;
    for (std::size_t k = 0; k < running_.size(); ++k)
      if (running_[k].counts_until_s > t_s_) {
        step_s_ = std::min(step_s_, sample_angle / std::abs(motion_[k].rate_per_s));
        next_change_s_ = std::min(next_change_s_, running_[k].counts_until_s);
      }
  }

  void anchor() {
    rested_V_ = 0.0;
    still_.clear();
    swinging_.clear();
    for (std::size_t k = 0; k < running_.size(); ++k) {
      const std::complex<double> rate = motion_[k].rate_per_s, amplitude = running_[k].amplitude_V;
      // What is faster than the steps has died out or never counted. It stands for its end value:
      // one step back it would grow beyond all bounds.
      if (!(std::abs(rate) * step_s_ <= sample_angle * (1.0 + 1e-9)))
        rested_V_ -= amplitude.real();
      else if (rate.imag() == 0.0)
        still_.push_back(
            {amplitude.real(), std::expm1(rate.real() * t_s_), std::expm1(rate.real() * step_s_)});
      else
        swinging_.push_back({amplitude, exp_less_one(rate * t_s_), exp_less_one(rate * step_s_)});
    }
  }

  const Motion& motion_;
  double t_s_;
  double longest_step_s_;
  double step_s_ = 0.0;
  double next_change_s_ = never_s;
  double steady_V_ = 0.0;
  double rested_V_ = 0.0;  ///< of the terms that have died out
  double line_V_per_s_ = 0.0;
  boost::container::small_vector<Running, usual_terms> running_;
  boost::container::small_vector<Still, usual_terms> still_;
  boost::container::small_vector<Swinging, usual_terms> swinging_;
};

struct Sample {
  double t_s = 0.0;
  double v_V = 0.0;
};

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
  t_s = std::clamp(t_s, low_s, high_s);
  Local here = local(motion, t_s);
  for (int i = 0; i < 6 && here.curvature != 0.0; ++i) {
    const double next_s = std::clamp(t_s - here.slope / here.curvature, low_s, high_s);
    const bool settled = std::abs(next_s - t_s) <= 1e-8 * (high_s - low_s);
    t_s = next_s;
    here = local(motion, t_s);
    if (settled) break;
  }
  return {t_s, here.v_V};
}

double crossing_s(const Motion& motion, double sign, double level_V, double low_s, double high_s) {
  const auto above_V = [&](double t_s) { return sign * value_V(motion, t_s) - level_V; };
  const double low_V = above_V(low_s), high_V = above_V(high_s);
  // A sample by products and the value itself differ by rounding.
  if (!(low_V * high_V < 0.0)) return std::abs(low_V) <= std::abs(high_V) ? low_s : high_s;
  // Newton's method from the secant; a step out of the bracket halves it.
  const double tolerance_s = 1e-9 * (high_s - low_s);
  const bool falls = low_V > 0.0;
  double t_s = low_s + (high_s - low_s) * low_V / (low_V - high_V);
  while (high_s - low_s > tolerance_s) {
    const Local here = local(motion, t_s);
    const double excess_V = sign * here.v_V - level_V;
    ((excess_V > 0.0) == falls ? low_s : high_s) = t_s;
    const double next_s = t_s - excess_V / (sign * here.slope);
    const bool inside = next_s > low_s && next_s < high_s;
    if (inside && std::abs(next_s - t_s) <= tolerance_s) return next_s;
    t_s = inside ? next_s : 0.5 * (low_s + high_s);
  }
  return t_s;
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
    if (std::abs(s_per_s - mode.rate_per_s) < 1e-7 * std::abs(s_per_s)) s_per_s *= 1.0 + 1e-6;
  constexpr std::complex<double> i{0.0, 1.0};
  std::complex<double> forced_V;
  for (std::size_t k = 0; k < modes.all().size(); ++k) {
    const StepMode& mode = modes.all()[k];
    const bool pair = mode.rate_per_s.imag() != 0.0;
    const std::complex<double> weight = pair ? 0.5 * mode.weight : mode.weight;
    const std::complex<double> own = amplitude_V * s_per_s * weight / (s_per_s - mode.rate_per_s);
    if (!pair) {
      motion[k].free_V -= own.imag();
      forced_V += own;
      continue;
    }
    const std::complex<double> mirrored =
        amplitude_V * s_per_s * std::conj(weight) / (s_per_s - std::conj(mode.rate_per_s));
    motion[k].free_V += i * (own - std::conj(mirrored));
    forced_V += own + mirrored;
  }
  motion.push_back({s_per_s, -i * forced_V, 0.0});
}

Peak largest(const Motion& motion, double end_s, Peak best) {
  if (motion.empty()) return best;
  constexpr long most_samples = 200'000;  // two undamped swings: their pattern has repeated by then
  constexpr int between_bounds = 8;
  Walk walk(motion, 0.0, std::isfinite(end_s) ? 0.5 * end_s : 1.0);
  Sample a{walk.t_s(), walk.v_V()};
  walk.advance();
  Sample b{walk.t_s(), walk.v_V()};
  for (long n = 0; n < most_samples && b.t_s < end_s + walk.step_s(); ++n) {
    walk.advance();
    const Sample c{walk.t_s(), walk.v_V()};
    const Crest top = crest(a, b, c);
    if (top.bends && std::abs(top.at.v_V) > 0.99 * best.magnitude_V && c.t_s > 0.0 &&
        a.t_s < end_s) {
      const Sample exact =
          refined(motion, top.at.t_s, std::max(a.t_s, 0.0), std::min(c.t_s, end_s));
      if (std::abs(exact.v_V) > best.magnitude_V) best = {std::abs(exact.v_V), exact.t_s};
    }
    if (n % between_bounds == 0 && !std::isfinite(end_s) &&
        walk.bound_V() <= (1.0 + 5e-5) * best.magnitude_V)
      break;
    a = b;
    b = c;
  }
  return best;
}

double first_below_s(const Motion& motion, double sign, double level_V, double from_s,
                     double end_s) {
  if (!(from_s < end_s)) return end_s;
  Walk walk(motion, from_s, 0.5 * (end_s - from_s));
  Sample a{walk.t_s(), sign * walk.v_V()};
  walk.advance();
  Sample b{walk.t_s(), sign * walk.v_V()};
  while (true) {
    walk.advance();
    const Sample c{walk.t_s(), sign * walk.v_V()};
    const Crest low = crest(a, b, c);
    if (low.bends && low.at.v_V <= level_V && b.v_V > level_V && c.v_V > level_V &&
        low.at.t_s > from_s) {
      const Sample exact = refined(motion, low.at.t_s, std::max(a.t_s, from_s), c.t_s);
      if (sign * exact.v_V <= level_V)
        return std::min(end_s,
                        crossing_s(motion, sign, level_V, std::max(a.t_s, from_s), exact.t_s));
    }
    if (c.v_V <= level_V)
      return std::min(end_s, crossing_s(motion, sign, level_V, std::max(b.t_s, from_s), c.t_s));
    if (c.t_s >= end_s) return end_s;
    a = b;
    b = c;
  }
}

std::optional<double> last_below_s(const Motion& motion, double sign, double level_V,
                                   double until_s) {
  if (!(until_s > 0.0)) return std::nullopt;
  Walk walk(motion, 0.0, 0.5 * until_s);
  walk.advance();
  Sample last{0.0, sign * walk.v_V()};
  std::optional<std::pair<double, double>> around;
  while (last.t_s < until_s) {
    walk.advance();
    const double t_s = std::min(walk.t_s(), until_s);
    const Sample next{t_s, t_s < walk.t_s() ? sign * value_V(motion, t_s) : sign * walk.v_V()};
    if (last.v_V <= level_V && next.v_V > level_V) around = {last.t_s, next.t_s};
    last = next;
  }
  if (!around) return std::nullopt;
  return crossing_s(motion, sign, level_V, around->first, around->second);
}

}  // namespace ohmdrag::voltage

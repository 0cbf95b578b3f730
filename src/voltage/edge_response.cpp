#include "ohmdrag/voltage/edge_response.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/numerics/root.hpp"
#include "voltage/path_modes.hpp"

namespace ohmdrag::voltage {

namespace {

struct Peak {
  double magnitude_V = 0.0;
  double time_s = 0.0;
};

/// Ramp from rest, then free motion.
class EdgeMotion {
 public:
  EdgeMotion(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise)
      : modes_(node, path), rise_s_(rise.value()) {
    if (!(rise > Time{})) throw std::invalid_argument("edge: the rise time must be positive");
    swing_V_ = bearing_voltage_ratio(node) * step.value();
    end_ = in_ramp(rise_s_);
  }

  NodeState at(double t_s) const {
    if (t_s <= 0.0) return {};
    return t_s <= rise_s_ ? in_ramp(t_s) : modes_.after(t_s - rise_s_)(end_);
  }

  Peak peak() const {
    Peak best{std::abs(end_.v_V), rise_s_};
    const auto consider = [&](double t_s) {
      const double magnitude_V = std::abs(at(t_s).v_V);
      if (magnitude_V > best.magnitude_V) best = {magnitude_V, t_s};
    };
    // Each motion is one damped swing around its own rest: its first stationary point is its
    // largest.
    const double in_ramp_s = modes_.first_stationary_in_ramp_s();
    if (in_ramp_s < rise_s_) consider(in_ramp_s);
    const double after_s = modes_.first_stationary_s(end_);
    if (std::isfinite(after_s)) consider(rise_s_ + after_s);
    return best;
  }

  const PathModes& modes() const { return modes_; }
  const NodeState& end() const { return end_; }
  double rise_s() const { return rise_s_; }
  double swing_V() const { return swing_V_; }

 private:
  NodeState in_ramp(double t_s) const { return modes_.ramped(swing_V_ / rise_s_, t_s); }

  PathModes modes_;
  double rise_s_;
  double swing_V_ = 0.0;
  NodeState end_;
};

double dwell_around_peak_s(const EdgeMotion& motion, const Peak& peak, double level_V,
                           double until_s) {
  if (!(peak.magnitude_V > level_V) || peak.time_s >= until_s) return 0.0;
  const double sign = motion.at(peak.time_s).v_V < 0.0 ? -1.0 : 1.0;
  const auto above_V = [&](double t_s) { return sign * motion.at(t_s).v_V - level_V; };
  const auto crossing_s = [&](double a, double b) {
    return numerics::bracketed_root(above_V, a, b, 1e-12 * until_s);
  };
  const double step_s = std::min(motion.modes().half_swing_s(), motion.rise_s()) / 16.0;

  double start_s = peak.time_s;
  while (above_V(start_s) > 0.0) start_s = std::max(0.0, start_s - step_s);
  start_s = crossing_s(start_s, std::min(start_s + step_s, peak.time_s));

  // Without swings the motion falls steadily after its peak: longer and longer steps bracket it.
  const double growth = motion.modes().damping() == Damping::under ? 1.0 : 2.0;
  double last_s = peak.time_s;
  double next_s = std::min(until_s, last_s + step_s);
  for (double stride_s = growth * step_s; above_V(next_s) > 0.0; stride_s *= growth) {
    if (next_s >= until_s) return until_s - start_s;
    last_s = next_s;
    next_s = std::min(until_s, last_s + stride_s);
  }
  return crossing_s(last_s, next_s) - start_s;
}

void require_until(Time rise, Time until) {
  if (!(until > rise)) throw std::invalid_argument("edge: the next edge must follow the ramp");
}

/// Free motion after the ramp plus what the ringing source forces.
class RingingMotion {
 public:
  RingingMotion(const EdgeMotion& edge, const Ringing& ringing) : edge_(edge) {
    if (!(ringing.frequency > Frequency{} && ringing.share_of_step >= 0.0 && ringing.quality > 0.5))
      throw std::invalid_argument(
          "ringing: needs a positive frequency, a share of at least 0 and a quality above 0.5");
    const double w_rad_s = 2.0 * std::numbers::pi * ringing.frequency.value();
    exponent_ = {-w_rad_s / (2.0 * ringing.quality), w_rad_s};
    const std::complex<double> source_V = ringing.share_of_step * edge.swing_V();
    const PathModes& modes = edge.modes();
    switch (modes.damping()) {
      case Damping::none_connected:
        forced_V_ = source_V;
        break;
      case Damping::shorted:
        break;
      case Damping::first_order:
        forced_V_ = source_V * exponent_ / (exponent_ + modes.fastest_per_s());
        break;
      default: {
        const double friction = 2.0 * modes.alpha_per_s();
        const double w0_squared = modes.resonance_squared();
        // A source exactly on a mode has no forced part of this form. Step aside by a millionth,
        // which moves the result by no more.
        if (std::abs(exponent_ * (exponent_ + friction) + w0_squared) < 1e-7 * w0_squared)
          exponent_ *= 1.0 + 1e-6;
        forced_V_ = source_V * exponent_ * (exponent_ + friction) /
                    (exponent_ * (exponent_ + friction) + w0_squared);
        forced_q_ = w0_squared * forced_V_ / (exponent_ + friction);
      }
    }
    free_ = {edge.end().v_V - forced_V_.imag(), edge.end().q_V_per_s - forced_q_.imag()};
  }

  /// \param t_s  after the end of the ramp
  double at_V(double t_s) const {
    return edge_.modes().after(t_s)(free_).v_V + (forced_V_ * std::exp(exponent_ * t_s)).imag();
  }

  Peak peak() const {
    Peak best = edge_.peak();
    if (best.time_s > edge_.rise_s()) best = {std::abs(edge_.end().v_V), edge_.rise_s()};
    const double ring_V = std::abs(forced_V_);
    const double largest_V = std::max(best.magnitude_V, ring_V);
    if (!(largest_V > 0.0)) return best;

    // A part that has fallen to this share of the largest figure moves the peak no more.
    constexpr double negligible = 1e-4;
    constexpr double samples_per_period = 32.0;
    const double half_swing_s = edge_.modes().half_swing_s();
    const double ring_step_s = 2.0 * std::numbers::pi / exponent_.imag() / samples_per_period;
    const double swing_step_s = std::min(ring_step_s, 2.0 * half_swing_s / samples_per_period);
    const double decades = -std::log(negligible);
    const double swing_end_s = decades / edge_.modes().slowest_per_s();
    double end_s = decades / -exponent_.real();
    if (std::isfinite(half_swing_s)) end_s += 2.0 * half_swing_s;

    double around_s = 0.0, sampled_V = std::abs(at_V(0.0)), step_s = swing_step_s;
    for (double t_s = 0.0; t_s < end_s; t_s += t_s < swing_end_s ? swing_step_s : ring_step_s) {
      const double magnitude_V = std::abs(at_V(t_s));
      if (magnitude_V > sampled_V) {
        sampled_V = magnitude_V;
        around_s = t_s;
        step_s = t_s < swing_end_s ? swing_step_s : ring_step_s;
      }
    }
    // The search's own tolerance is absolute: over steps, not over seconds.
    constexpr int bits = 26;  // half the digits of a double: all that a maximum can give
    const auto [steps, negative_V] = boost::math::tools::brent_find_minima(
        [&](double n) { return -std::abs(at_V(around_s + n * step_s)); },
        std::max(-1.0, -around_s / step_s), 1.0, bits);
    const double time_s = around_s + steps * step_s;
    if (-negative_V > best.magnitude_V) best = {-negative_V, edge_.rise_s() + time_s};
    return best;
  }

 private:
  const EdgeMotion& edge_;
  std::complex<double> exponent_;
  std::complex<double> forced_V_;
  std::complex<double> forced_q_;
  NodeState free_;
};

}  // namespace

Voltage response_at(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                    Time time) {
  return Voltage::from_value(EdgeMotion{node, path, step, rise}.at(time.value()).v_V);
}

Voltage edge_peak(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise) {
  return Voltage::from_value(EdgeMotion{node, path, step, rise}.peak().magnitude_V);
}

Time dwell_above(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                 Voltage level, Time until) {
  const EdgeMotion motion{node, path, step, rise};
  require_until(rise, until);
  if (!(level > Voltage{})) throw std::invalid_argument("edge: the level must be positive");
  return Time::from_value(dwell_around_peak_s(motion, motion.peak(), level.value(), until.value()));
}

Stress edge_stress(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                   Time until) {
  const EdgeMotion motion{node, path, step, rise};
  require_until(rise, until);
  const Peak peak = motion.peak();
  return {.voltage = Voltage::from_value(peak.magnitude_V),
          .duration = Time::from_value(
              dwell_around_peak_s(motion, peak, 0.5 * peak.magnitude_V, until.value()))};
}

Voltage ringing_response_at(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                            const Ringing& ringing, Time time) {
  const EdgeMotion edge{node, path, step, rise};
  const RingingMotion motion{edge, ringing};
  return Voltage::from_value(time <= rise ? edge.at(time.value()).v_V
                                          : motion.at_V((time - rise).value()));
}

Voltage edge_peak_with_ringing(const ShaftNode& node, const MaybePath& path, Voltage step,
                               Time rise, const Ringing& ringing) {
  const EdgeMotion edge{node, path, step, rise};
  return Voltage::from_value(RingingMotion{edge, ringing}.peak().magnitude_V);
}

Voltage oscillation_amplitude(const ShaftNode& node, const MaybePath& path, Voltage amplitude,
                              Frequency frequency) {
  return bearing_voltage_ratio(node) * std::abs(attenuation(node, path, frequency)) * amplitude;
}

}  // namespace ohmdrag::voltage

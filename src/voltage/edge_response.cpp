#include "ohmdrag/voltage/edge_response.hpp"

#include <cmath>
#include <complex>
#include <numbers>
#include <stdexcept>

#include "voltage/motion.hpp"
#include "voltage/plain_complex.hpp"

namespace ohmdrag::voltage {

namespace {

void require_defined(const Ringing& ringing) {
  if (!(ringing.frequency > Frequency{} && ringing.share_of_step >= 0.0 && ringing.quality > 0.5))
    throw std::invalid_argument(
        "ringing: needs a positive frequency, a share of at least 0 and a quality above 0.5");
}

/// Ramp from rest, then free motion, with the ringing of the source where there is one.
class EdgeMotion {
 public:
  EdgeMotion(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
             const Ringing* ringing = nullptr)
      : rise_s_(rise.value()) {
    const StepModes modes(node, path);
    if (!(rise > Time{})) throw std::invalid_argument("edge: the rise time must be positive");
    if (ringing) require_defined(*ringing);
    const double swing_V = modes.ratio() * step.value();
    ramp_.reserve(modes.all().size());
    after_.reserve(modes.all().size() + 1);  // and the ringing
    for (const StepMode& mode : modes.all()) {
      const std::complex<double> driven = swing_V / rise_s_ * mode.weight;
      const std::complex<double> lasted =
          mode.rate_per_s == 0.0
              ? std::complex<double>{rise_s_}
              : quotient(exp_less_one(mode.rate_per_s * rise_s_), mode.rate_per_s);
      ramp_.push_back({mode.rate_per_s, 0.0, driven});
      after_.push_back({mode.rate_per_s, product(driven, lasted), 0.0});
    }
    if (!ringing) return;
    const double w_rad_s = 2.0 * std::numbers::pi * ringing->frequency.value();
    add_oscillation(after_, modes, ringing->share_of_step * swing_V,
                    {-w_rad_s / (2.0 * ringing->quality), w_rad_s});
  }

  double at_V(double t_s) const {
    if (t_s <= 0.0) return 0.0;
    return t_s <= rise_s_ ? value_V(ramp_, t_s) : value_V(after_, t_s - rise_s_);
  }

  Peak peak() const {
    const Peak in_ramp = largest(ramp_, rise_s_, {value_V(ramp_, rise_s_), rise_s_});
    const Peak later = largest(after_, never_s, {in_ramp.v_V, -1.0});
    return later.time_s < 0.0 ? in_ramp : Peak{later.v_V, rise_s_ + later.time_s};
  }

  /// How long |v| stays above the level around its peak, at most until the next edge.
  double dwell_s(const Peak& peak, double level_V, double until_s) const {
    if (!(peak.magnitude_V() > level_V) || peak.time_s >= until_s) return 0.0;
    const double sign = peak.v_V < 0.0 ? -1.0 : 1.0;
    const bool in_ramp = peak.time_s < rise_s_;
    return end_s(sign, level_V, peak.time_s, in_ramp, until_s) -
           start_s(sign, level_V, peak.time_s, in_ramp);
  }

 private:
  double start_s(double sign, double level_V, double peak_s, bool in_ramp) const {
    if (!in_ramp)
      if (const auto start = last_below_s(after_, sign, level_V, peak_s - rise_s_))
        return rise_s_ + *start;
    return last_below_s(ramp_, sign, level_V, std::min(peak_s, rise_s_)).value_or(0.0);
  }

  double end_s(double sign, double level_V, double peak_s, bool in_ramp, double until_s) const {
    if (in_ramp)
      if (const double end = first_below_s(ramp_, sign, level_V, peak_s, rise_s_); end < rise_s_)
        return end;
    return rise_s_ + first_below_s(after_, sign, level_V, in_ramp ? 0.0 : peak_s - rise_s_,
                                   until_s - rise_s_);
  }

  double rise_s_;
  Motion ramp_;
  Motion after_;
};

void require_until(Time rise, Time until) {
  if (!(until > rise)) throw std::invalid_argument("edge: the next edge must follow the ramp");
}

Stress stress_of(const EdgeMotion& motion, Time until) {
  const Peak peak = motion.peak();
  const double peak_V = peak.magnitude_V();
  return {.voltage = Voltage::from_value(peak_V),
          .duration = Time::from_value(motion.dwell_s(peak, 0.5 * peak_V, until.value()))};
}

}  // namespace

Voltage response_at(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                    Time time) {
  return Voltage::from_value(EdgeMotion{node, path, step, rise}.at_V(time.value()));
}

Voltage edge_peak(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise) {
  return Voltage::from_value(EdgeMotion{node, path, step, rise}.peak().magnitude_V());
}

Time dwell_above(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                 Voltage level, Time until) {
  const EdgeMotion motion{node, path, step, rise};
  require_until(rise, until);
  if (!(level > Voltage{})) throw std::invalid_argument("edge: the level must be positive");
  return Time::from_value(motion.dwell_s(motion.peak(), level.value(), until.value()));
}

Stress edge_stress(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                   Time until) {
  const EdgeMotion motion{node, path, step, rise};
  require_until(rise, until);
  return stress_of(motion, until);
}

Stress edge_stress_with_ringing(const ShaftNode& node, const MaybePath& path, Voltage step,
                                Time rise, const Ringing& ringing, Time until) {
  const EdgeMotion motion{node, path, step, rise, &ringing};
  require_until(rise, until);
  return stress_of(motion, until);
}

Voltage ringing_response_at(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                            const Ringing& ringing, Time time) {
  return Voltage::from_value(EdgeMotion{node, path, step, rise, &ringing}.at_V(time.value()));
}

Voltage edge_peak_with_ringing(const ShaftNode& node, const MaybePath& path, Voltage step,
                               Time rise, const Ringing& ringing) {
  return Voltage::from_value(EdgeMotion{node, path, step, rise, &ringing}.peak().magnitude_V());
}

Voltage oscillation_amplitude(const ShaftNode& node, const MaybePath& path, Voltage amplitude,
                              Frequency frequency) {
  return bearing_voltage_ratio(node) * std::abs(attenuation(node, path, frequency)) * amplitude;
}

}  // namespace ohmdrag::voltage

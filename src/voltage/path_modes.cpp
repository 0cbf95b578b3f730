#include "voltage/path_modes.hpp"

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::voltage {

namespace {
constexpr double never = std::numeric_limits<double>::infinity();
}

void require_defined(const GroundingPath& path) {
  if (!(path.resistance >= Resistance{} && path.inductance >= Inductance{}))
    throw std::invalid_argument("path: resistance and inductance must not be negative");
}

PathModes::PathModes(const ShaftNode& node, const MaybePath& path) {
  bearing_voltage_ratio(node);  // refuses an undefined node
  if (!path) return;
  require_defined(*path);
  const double r_ohm = path->resistance.value();
  const double l_H = path->inductance.value();
  const double c_F = node.total.value();
  if (l_H == 0.0) {
    damping_ = r_ohm == 0.0 ? Damping::shorted : Damping::first_order;
    rate_ = r_ohm == 0.0 ? never : 1.0 / (r_ohm * c_F);
    return;
  }
  alpha_ = r_ohm / (2.0 * l_H);
  w0_squared_ = 1.0 / (l_H * c_F);
  const double w0 = std::sqrt(w0_squared_);
  // As a product: exact where alpha and w0 nearly agree.
  const double discriminant = (alpha_ - w0) * (alpha_ + w0);
  damping_ = discriminant < 0.0 ? Damping::under : Damping::over;
  swing_ = std::sqrt(std::abs(discriminant));
}

Propagator PathModes::after(double t_s) const {
  switch (damping_) {
    case Damping::none_connected:
      return {};
    case Damping::shorted:
      return {.vv = t_s > 0.0 ? 0.0 : 1.0};
    case Damping::first_order:
      return {.vv = std::exp(-rate_ * t_s)};
    case Damping::under: {
      const double decay = std::exp(-alpha_ * t_s);
      const double cosine = decay * std::cos(swing_ * t_s);
      const double sine = decay * std::sin(swing_ * t_s) / swing_;
      return {cosine + alpha_ * sine, -sine, w0_squared_ * sine, cosine - alpha_ * sine};
    }
    case Damping::over: {
      // The two exact modes; the slow one as a quotient, the difference of two large numbers
      // would lose it where L is small.
      const double fast = -(alpha_ + swing_);
      const double slow = w0_squared_ / fast;
      const double slow_left = std::exp(slow * t_s);
      const double spread = 2.0 * swing_ * t_s;
      const double mean_spread = spread > 0.0 ? -std::expm1(-spread) / spread : 1.0;
      const double sine = slow_left * t_s * mean_spread;
      return {slow_left - slow * sine, -sine, w0_squared_ * sine, slow_left + fast * sine};
    }
  }
  return {};
}

NodeState PathModes::ramped(double slope_V_per_s, double t_s) const {
  switch (damping_) {
    case Damping::none_connected:
      return {slope_V_per_s * t_s, 0.0};
    case Damping::shorted:
      return {};
    case Damping::first_order:
      return {slope_V_per_s * -std::expm1(-rate_ * t_s) / rate_, 0.0};
    case Damping::over:
      // Each mode integrated by itself: where R is large, the sum of the forced and the free
      // motion would lose all digits. Near critical damping it is the other way round.
      if (swing_ > 1e-3 * alpha_) {
        const double fast = -(alpha_ + swing_);
        const double slow = w0_squared_ / fast;
        const double fast_gone = std::expm1(fast * t_s);
        const double slow_gone = std::expm1(slow * t_s);
        const double v_s = (slow * (fast_gone / fast) - fast * (slow_gone / slow)) / (slow - fast);
        const double q = (fast * slow_gone - slow * fast_gone) / (slow - fast);
        return {slope_V_per_s * v_s, slope_V_per_s * q};
      }
      [[fallthrough]];
    case Damping::under: {
      const NodeState rest{2.0 * alpha_ / w0_squared_ * slope_V_per_s, slope_V_per_s};
      const NodeState free = after(t_s)({-rest.v_V, -rest.q_V_per_s});
      return {rest.v_V + free.v_V, rest.q_V_per_s + free.q_V_per_s};
    }
  }
  return {};
}

double PathModes::first_stationary_in_ramp_s() const {
  // The slope of v is s (cos + alpha/w_d sin) exp(-alpha t), without a zero unless it swings.
  if (damping_ != Damping::under) return never;
  return (std::numbers::pi - std::atan2(swing_, alpha_)) / swing_;
}

double PathModes::first_stationary_s(const NodeState& x) const {
  if (damping_ != Damping::under && damping_ != Damping::over) return never;
  // q = 0 where sin/cos (or sinh/cosh) of the swing over the swing equals this quotient.
  const double quotient = x.q_V_per_s / (alpha_ * x.q_V_per_s - w0_squared_ * x.v_V);
  if (!std::isfinite(quotient))
    return damping_ == Damping::under ? 0.5 * std::numbers::pi / swing_ : never;
  if (damping_ == Damping::under) {
    const double angle = std::atan(swing_ * quotient);
    return (angle > 0.0 ? angle : angle + std::numbers::pi) / swing_;
  }
  const double tangent = swing_ * quotient;
  if (!(quotient > 0.0 && tangent < 1.0)) return never;
  return swing_ > 0.0 ? std::atanh(tangent) / swing_ : quotient;
}

double PathModes::half_swing_s() const {
  return damping_ == Damping::under ? std::numbers::pi / swing_ : never;
}

double PathModes::fastest_per_s() const {
  switch (damping_) {
    case Damping::under:
      return std::sqrt(w0_squared_);
    case Damping::over:
      return alpha_ + swing_;
    default:
      return rate_;
  }
}

double PathModes::slowest_per_s() const {
  switch (damping_) {
    case Damping::under:
      return alpha_;
    case Damping::over:
      return w0_squared_ / (alpha_ + swing_);
    default:
      return rate_;
  }
}

}  // namespace ohmdrag::voltage

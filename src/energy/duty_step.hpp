#pragma once

#include <cmath>
#include <optional>

#include "ohmdrag/energy/quick_march.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::energy {

/// x^(2/3): the viscous torque of a bearing goes with that of nu n.
inline double two_thirds(double x) { return std::cbrt(x * x); }

/// Of a bearing that turns so slowly that its viscous part is the least.
bearing::FrictionTorque slow_friction(const BearingPart& part, Torque shaft_torque);

/// A stretch in plain numbers, without its speeds.
/// \throws std::invalid_argument as duty::conductance_at().
DutyStep duty_step(const Stretch& stretch, const std::optional<duty::AirStream>& air);

/// (1 - e^-x)/x, what is left of a heat over a step of a sump with x = G dt/C: a series where x is
/// small, as it is for a sump and a second.
[[gnu::always_inline]] inline double mean_decay_of_small(double x) {
  return 1.0 -
         x * (1.0 / 2) *
             (1.0 - x * (1.0 / 3) *
                        (1.0 - x * (1.0 / 4) * (1.0 - x * (1.0 / 5) * (1.0 - x * (1.0 / 6)))));
}
inline constexpr double small_decay = 0.01;  ///< the series is 2e-16 off there
[[gnu::always_inline]] inline double mean_decay_of_large(double x) {
  return (1.0 - numerics::LaneMath::exp(-x)) / (x > small_decay ? x : small_decay);
}

}  // namespace ohmdrag::energy

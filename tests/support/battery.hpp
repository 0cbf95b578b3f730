#pragma once

#include "ohmdrag/duty/battery.hpp"

namespace ohmdrag::test {

inline EnergyPerDistance wh_per_km(double value) {
  return EnergyPerDistance::from_value(3.6 * value);
}

/// A path whose losses all follow the load, without gears.
/// \param share  of the braking that is recuperated
inline duty::BatteryPath simple_path(double traction, double recuperation, double share) {
  return {.mean_efficiency = traction,
          .load_independent_share = 0.0,
          .recuperation_efficiency = recuperation,
          .recuperation_share = share,
          .gear_efficiency = 1.0};
}

}  // namespace ohmdrag::test

#pragma once

#include <array>
#include <cstddef>

#include "ohmdrag/voltage/common_mode.hpp"

/// What the legs do in one carrier period. Kernel of the staircase and of the held voltage.
namespace ohmdrag::voltage {

/// Shares of the period for which legs stand high.
struct CarrierDuties {
  std::array<double, 3> switching{};  ///< of the legs that switch, the largest first
  std::size_t count = 0;              ///< of these
  int high = 0;                       ///< legs that stand high all the time
};

/// d = (1 + m)/2 of leg_references(). The leg with the largest duty goes up first and comes down
/// last.
/// \throws std::invalid_argument as leg_references()
CarrierDuties carrier_duties(ModulationKind kind, double modulation, double angle_rad);

}  // namespace ohmdrag::voltage

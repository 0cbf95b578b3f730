#include "ohmdrag/bearing/tapered_load.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::bearing {

Force tapered_roller_equivalent_load(Force radial, Force axial, double axial_factor) {
  if (!(axial_factor > 0.0))
    throw std::invalid_argument("tapered roller bearing: axial factor must be positive");
  constexpr double radial_factor = 0.4;       // X
  constexpr double limit_times_factor = 0.6;  // e Y
  const double radial_N = std::abs(radial.value());
  const double axial_N = std::abs(axial.value());
  // Multiplied out, so that a bearing without radial load needs no case of its own.
  if (axial_N * axial_factor <= limit_times_factor * radial_N) return Force::from_value(radial_N);
  return Force::from_value(radial_factor * radial_N + axial_factor * axial_N);
}

}  // namespace ohmdrag::bearing

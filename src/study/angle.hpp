#pragma once

#include <numbers>

namespace ohmdrag::study {

/// Files state angles in degrees, the physics rooms take radians.
constexpr double in_radians(double degrees) { return degrees * std::numbers::pi / 180.0; }

}  // namespace ohmdrag::study

#pragma once

#include <array>
#include <numbers>

#include "ohmdrag/quantity/dimension.hpp"

namespace ohmdrag::input {

/// Units of a column of angles; read in degrees.
inline constexpr std::array angle_units{UnitSpelling{"deg", 1.0},
                                        UnitSpelling{"rad", 180.0 / std::numbers::pi}};

}  // namespace ohmdrag::input

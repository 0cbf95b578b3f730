#pragma once

#include <limits>
#include <string>
#include <string_view>

#include "ohmdrag/quantity/dimension.hpp"

namespace ohmdrag::input {

/// What a number can be at all, in SI: not a judgement on good design.
struct PhysicalRange {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  bool low_excluded = false;  ///< the value must be above `low`, not at it

  bool admits(double si_value) const;
  /// "0 mm to 2000 mm", "above 0 W".
  std::string in_words(Dimension dimension) const;
};

/// The range for a key such as "shaft.diameter": the row of the last word of the key in that
/// dimension, or what the dimension alone says.
PhysicalRange physical_range(std::string_view key, Dimension dimension);

}  // namespace ohmdrag::input

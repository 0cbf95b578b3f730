#pragma once

#include <limits>
#include <optional>
#include <string_view>

namespace ohmdrag::numerics {

/// A formula was used outside the range it is known to hold in: what was used, where it left the
/// range and what the range is. `value`, `low` and `high` are in the unit that `quantity` names
/// ("film temperature, degC"). Both texts are string literals.
struct RangeFlag {
  std::string_view formula;
  std::string_view quantity;
  double value = 0.0;
  double low = 0.0;
  double high = 0.0;
  bool operator==(const RangeFlag&) const = default;
};

inline constexpr double no_limit = std::numeric_limits<double>::infinity();

/// The flag if `value` is not within [low, high] (a NaN never is), else nothing.
constexpr std::optional<RangeFlag> flag_outside(std::string_view formula, std::string_view quantity,
                                                double value, double low, double high) {
  if (value >= low && value <= high) return std::nullopt;
  return RangeFlag{formula, quantity, value, low, high};
}

}  // namespace ohmdrag::numerics

#pragma once

#include <string>

#include "ohmdrag/quantity/dimension.hpp"
#include "ohmdrag/quantity/distribution.hpp"

namespace ohmdrag {

/// A number with so many significant digits, without exponent between 1e-4 and 1e7, without
/// trailing noise: 0.0150 -> "0.015" at 2 digits, 47374 -> "47000" at 2 digits. Halves are rounded
/// away from zero, on the shortest decimal that names the number: 2.675 -> "2.68" at 3 digits.
/// NaN is "n/a". \throws std::invalid_argument if digits < 1.
std::string print_number(double value, int digits);

/// An exact quantity in the unit an engineer expects ("40 mm", "70 degC", "12 kHz").
std::string print_quantity(double si_value, Dimension dimension, int digits = 4);

/// An interval with digits that follow its width: "3.1 (2.4 … 3.9) W". The half-width gets two
/// digits and all three numbers are rounded to the same place; zeros that all three end in after
/// the decimal point are dropped. A factor of ten or more between the ends is printed as "low …
/// high" (never for temperatures, whose zero is a convention), no upper bound as "> low". `unit` is
/// a spelling of the table; empty picks one by print_quantity's rule. \throws std::invalid_argument
/// if the dimension does not know the unit.
std::string print_interval(const Interval& si, Dimension dimension, std::string_view unit = {});

/// The same for a bare number already in its unit: "3.1 (2.4 … 3.9)".
std::string print_interval(const Interval& value);

/// The unit print_quantity picks for this size.
std::string_view engineering_unit(double si_value, Dimension dimension);

/// An interval in that unit, for tables that name the unit apart; the unit of a ratio is empty.
struct InUnit {
  Interval value;
  std::string unit;
};
InUnit in_engineering_unit(const Interval& si, Dimension dimension);

}  // namespace ohmdrag

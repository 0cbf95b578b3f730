#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "ohmdrag/quantity/dimension.hpp"
#include "ohmdrag/quantity/distribution.hpp"

namespace ohmdrag {

/// Why a text is not the quantity that was expected. Plain sentences without a trailing stop;
/// the reader of the file adds where it stood.
struct ReadProblem {
  std::string what;  ///< `read "12 mm", a length; expected a force per length`
  std::string hint;  ///< `accepted units: N/m, N/mm, N/cm`
};

/// Reads text such as "40 mm", "0.015 N/mm ± 20 %", "70 +/- 5 degC", "10 … 40 ohm",
/// "30 ohm ×/÷ 3" against an expected dimension. The distribution comes back in SI.
///
/// Forms    a;  a ± b;  a ± p %;  a … b;  a … m … b;  a ×/÷ f;  the ± and ×/÷ forms also with
///          "within c … d" behind them, which cuts them there.
/// ASCII    ± is also +/- or +-;  … is also .. or ...;  ×/÷ is also x/: or */: (and any mixture of
///          × x * before the stroke and ÷ : after it).
/// Units    A bare number is right for a ratio only. The unit may follow each number or only the
///          last one; two units must agree in dimension ("45 mm ± 25 um" is fine). A unit after the
///          first number alone is refused: "0.015 N/mm ± 20" may be a forgotten %.
/// Percent  "± p %" is relative to the value. Only where a ratio was itself written in % are they
///          percentage points: "20 % ± 5 %" is 0.2 ± 0.05, but "0.3 ± 20 %" is 0.3 ± 0.06 and
///          "14 ± 10 %" is 14 ± 1.4. In a range a final % holds for both ends.
/// Zero     A half-width of 0, a factor of 1 and a range without length are exact.
/// Triangle a … m … b: m is the most frequent value. The middle that comes back is the median.
/// Refused  a missing or unknown unit, another dimension, NaN, infinity or 1e300 and beyond, a
///          percentage of zero, a percentage or factor on a temperature, a temperature below
///          absolute zero, a negative half-width, a factor below 1, a factor on a value that is not
///          positive, limits in the wrong order, a decimal comma, blanks inside a number.
///
/// Numbers are read with a decimal point whatever the locale says.
std::variant<Distribution, ReadProblem> read_quantity(std::string_view text, Dimension expected);

/// Reads the text of a separate `spread` or `scatter` key, "± 20 %", "± 3 ohm", "×/÷ 3",
/// "10 … 40 ohm", around a middle value (SI). The result has that mid: a range whose centre it is
/// not is refused, as a uniform distribution cannot lean. Of "10 … 15 … 40 ohm" it must be the
/// mode, 15 ohm; the mid that comes back is the median. Percent is always relative to mid.
std::variant<Distribution, ReadProblem> read_spread(std::string_view text, Dimension expected,
                                                    double mid);

/// Cuts a normal or log-normal distribution at the limits of a text "10 … 40 ohm".
/// Refused  as after "within" in read_quantity().
std::variant<Distribution, ReadProblem> read_within(std::string_view text, Dimension expected,
                                                    const Distribution& distribution);

/// "accepted units: N/m, N/mm, N/cm".
std::string accepted_units(Dimension expected);

}  // namespace ohmdrag

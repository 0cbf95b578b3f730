#include "ohmdrag/quantity/read.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

#include "ohmdrag/quantity/print.hpp"
#include "quantity/text_scan.hpp"

namespace ohmdrag {

using namespace text_scan;

namespace {

// Numbers from here on are the limits of an untruncated Distribution, not values.
constexpr double too_large = 1e300;

struct Number {
  double value = 0.0;
  std::string_view unit;  ///< as typed
};

std::string joined(const std::vector<Dimension>& dimensions) {
  std::string out;
  for (const Dimension d : dimensions) {
    if (!out.empty()) out += " or ";
    out += row_of(d).with_article;
  }
  return out;
}

/// Reads one text; every refusal is thrown as a ReadProblem and ends in the public functions.
class Reader {
 public:
  Reader(std::string_view text, Dimension expected)
      : text_(text), simple_(simplified(text)), row_(row_of(expected)) {}

  Distribution quantity() const {
    const Limited whole = split_limits(simple_);
    const Distribution out = quantity(whole.text);
    return whole.limits ? cut(out, *whole.limits) : out;
  }

  Distribution spread(double mid) const {
    const Limited whole = split_limits(simple_);
    const Distribution out = spread(whole.text, mid);
    return whole.limits ? cut(out, *whole.limits) : out;
  }

  Distribution within(const Distribution& distribution) const { return cut(distribution, simple_); }

 private:
  Distribution quantity(std::string_view text) const {
    const Parts parts = split(text);
    if (parts.left.empty()) refuse("no number", "; expected " + wanted());
    const Number left = number(parts.left);
    if (parts.sign == Sign::none) return checked({.mid = value_of(left, unit_of(left))});
    if (is_triangle(parts)) return triangle(parts);
    return spread_value(parts.sign, left, right_side(parts));
  }

  Distribution spread(std::string_view text, double mid) const {
    const Parts parts = split(text);
    if (parts.sign == Sign::none)
      refuse("a spread starts with ±, ×/÷ or is a range", "",
             "write \"± 20 %\", \"×/÷ 3\" or \"10 … 40\" with a unit");
    if (is_triangle(parts)) {
      const Distribution out = triangle(parts);
      if (!(std::abs(out.mode() - mid) <= 1e-9 * std::max(std::abs(mid), out.half_width)))
        refuse("the middle one of three values must be the value itself, " +
               print_quantity(mid, row_.dimension));
      return out;
    }
    const Number right = right_side(parts);
    if (parts.sign == Sign::range) {
      if (parts.left.empty()) refuse("a range needs a number on either side");
      const Distribution range = spread_value(parts.sign, number(parts.left), right);
      const double slack = 1e-9 * std::max(std::abs(mid), range.half_width);
      if (!(std::abs(range.mid - mid) <= slack))
        refuse(
            "a range around " + print_quantity(mid, row_.dimension) + " must have it as its centre",
            "", "write the range as the value itself, or the spread with ± or ×/÷");
      return {.shape = range.shape, .mid = mid, .half_width = range.half_width};
    }
    if (!parts.left.empty()) refuse("a spread starts with ± or ×/÷");
    if (parts.sign == Sign::factor) return times_over(mid, right);
    if (is_percent(right)) return plus_minus(mid, relative(mid, right));
    return plus_minus(mid, right.value * unit_of(right).factor);
  }

  [[noreturn]] void refuse(const std::string& why, const std::string& rest = "",
                           const std::string& hint = "") const {
    throw ReadProblem{"read " + quoted(text_) + ": " + why + rest,
                      hint.empty() ? accepted_units(row_.dimension) : hint};
  }

  [[noreturn]] void refuse_unit_of_factor() const {
    refuse("the factor after ×/÷ is a bare number", "", "write the unit before it: 30 ohm ×/÷ 3");
  }

  std::string wanted() const { return std::string(row_.with_article); }
  bool is_a_ratio() const { return row_.dimension == Dimension::ratio; }
  static bool is_percent(const Number& n) { return canonical_unit(n.unit) == "%"; }

  static bool is_triangle(const Parts& parts) {
    return parts.sign == Sign::range && split(parts.right).sign == Sign::range;
  }

  /// The number in SI; its unit may stand behind the last of a row of numbers only.
  double in_row(const Number& n, const Number& last) const {
    if (last.unit.empty() && !n.unit.empty()) unit_of_last(n, last);
    return value_of(n, n.unit.empty() ? unit_of(last) : unit_of(n));
  }

  Distribution triangle(const Parts& parts) const {
    const Parts rest = split(parts.right);
    if (parts.left.empty() || rest.left.empty() || rest.right.empty())
      refuse("a triangle needs three numbers, low … most frequent … high");
    if (split(rest.right).sign != Sign::none) refuse("only one ±, … or ×/÷ is possible");
    const Number low = number(parts.left), mode = number(rest.left), high = number(rest.right);
    const double from = in_row(low, high), most = in_row(mode, high), to = in_row(high, high);
    for (const double end : {from, most, to}) checked({.mid = end});
    if (from > to) refuse("the limits stand in the wrong order", "", "write the smaller one first");
    if (!(from <= most && most <= to))
      refuse("the most frequent value lies outside the limits", "",
             "write low … most frequent … high");
    return from < to ? Distribution::triangle(from, most, to) : checked({.mid = from});
  }

  Distribution cut(Distribution out, std::string_view limits) const {
    const bool normal = out.shape == Shape::normal;
    if (!normal && out.shape != Shape::log_normal)
      refuse("limits after \"within\" need a ± or ×/÷ before them", "",
             "a range a … b has its limits already");
    const Parts parts = split(limits);
    if (parts.sign != Sign::range || parts.left.empty() || parts.right.empty() ||
        split(parts.right).sign != Sign::none)
      refuse("the limits after \"within\" are a range", "", "write 0.3 ± 0.1 within 0.2 … 0.45");
    const Number left = number(parts.left), right = number(parts.right);
    const double low = in_row(left, right), high = in_row(right, right);
    for (const double end : {low, high}) checked({.mid = end});
    if (low > high)
      refuse("the limits stand in the wrong order", "", "write the smaller one first");
    if (!(low < high && low <= out.mid && out.mid <= high))
      refuse("the value lies outside its limits, which leave nothing of it", "",
             "limits have the value between them");
    if (!normal && !(low > 0.0)) refuse("the lower limit of a value with ×/÷ must be positive");
    const auto in_half_widths = [&](double limit) {
      return (normal ? limit - out.mid : std::log(limit / out.mid)) / out.half_width;
    };
    out.cut_below = in_half_widths(low);
    out.cut_above = in_half_widths(high);
    return out;
  }

  Number right_side(const Parts& parts) const {
    if (parts.right.empty()) refuse("nothing stands after the ±, … or ×/÷");
    if (split(parts.right).sign != Sign::none) refuse("only one ±, … or ×/÷ is possible");
    return number(parts.right);
  }

  Number number(std::string_view piece) const {
    // from_chars knows no plus sign, but does know "inf" and "nan".
    std::string_view digits = piece;
    if (digits.starts_with('+')) digits.remove_prefix(1);
    const std::string_view unsigned_digits = digits.substr(digits.starts_with('-') ? 1 : 0);
    const std::string word = without_signs(unsigned_digits.substr(0, 3));
    if (word == "nan" || word == "inf") refuse("not a finite number");
    Number out;
    const auto [end, error] = std::from_chars(digits.begin(), digits.end(), out.value);
    if (error == std::errc::result_out_of_range) refuse("the number is too large or too small");
    // A plus before a minus would slip through: "+-3" is a spread, "+ -3" is nothing.
    const bool doubled = piece.starts_with('+') && digits.starts_with('-');
    if (error != std::errc{} || doubled) refuse("no number", "; expected " + wanted());
    const std::string_view rest(end, digits.end());
    if (rest.starts_with(',') && rest.size() > 1 && is_digit(rest[1]))
      refuse("a comma in a number", "",
             "write decimals with a point (0.5) and thousands without a sign (12000)");
    out.unit = trimmed(rest);
    const bool reciprocal =
        out.unit == "1" ||
        trimmed(out.unit.substr(out.unit.starts_with('1') ? 1 : 0)).starts_with('/');
    if (!out.unit.empty() && !reciprocal &&
        (is_digit(out.unit[0]) || out.unit[0] == '.' || out.unit[0] == '-' ||
         out.unit.starts_with("–")))
      refuse("a second number follows the first", "",
             "write a number without blanks and with one decimal point, a range as 10 … 40");
    return out;
  }

  const UnitSpelling& unit_of(const Number& n) const {
    if (n.unit.empty()) {
      if (!is_a_ratio()) refuse(wanted() + " needs a unit");
      return row_.units.front();
    }
    if (const UnitSpelling* unit = find_unit(row_.dimension, n.unit)) return *unit;
    const std::vector<Dimension> others = dimensions_of_unit(n.unit);
    if (!others.empty())
      throw ReadProblem{"read " + quoted(text_) + ", " + joined(others) + "; expected " + wanted(),
                        accepted_units(row_.dimension)};
    const std::string_view near = nearest_unit(n.unit, row_.dimension);
    std::string hint = accepted_units(row_.dimension);
    if (!near.empty()) hint = "did you mean " + std::string(near) + "? " + hint;
    refuse(quoted(n.unit) + " is not a unit I know", "; expected " + wanted(), hint);
  }

  static double value_of(const Number& n, const UnitSpelling& unit) {
    return n.value * unit.factor + unit.offset;
  }

  Distribution spread_value(Sign sign, const Number& left, const Number& right) const {
    if (sign == Sign::factor) {
      if (left.unit.empty() && !right.unit.empty()) refuse_unit_of_factor();
      return times_over(value_of(left, unit_of(left)), right);
    }
    if (sign == Sign::plus_minus && is_percent(right)) {
      const bool points = is_a_ratio() && is_percent(left);
      const double mid = value_of(left, unit_of(left));
      return plus_minus(mid, points ? right.value * 0.01 : relative(mid, right));
    }
    const UnitSpelling& right_unit = unit_of_last(left, right);
    const UnitSpelling& left_unit = left.unit.empty() ? right_unit : unit_of(left);
    const double from = value_of(left, left_unit);
    if (sign == Sign::plus_minus) return plus_minus(from, right.value * right_unit.factor);
    return range(from, value_of(right, right_unit));
  }

  const UnitSpelling& unit_of_last(const Number& left, const Number& right) const {
    if (right.unit.empty() && !left.unit.empty()) {
      unit_of(left);  // a wrong unit is the greater mistake
      refuse("the last number needs its unit too");
    }
    return unit_of(right);
  }

  double relative(double mid, const Number& percent) const {
    if (row_.dimension == Dimension::temperature)
      refuse("a percentage of a temperature has no meaning, as its zero is a convention", "",
             "write the spread in degrees, ± 5 degC");
    if (mid == 0.0)
      refuse("a percentage of zero is no spread", "", "write the spread with its unit");
    return std::abs(mid) * percent.value * 0.01;
  }

  Distribution plus_minus(double mid, double half_width) const {
    if (std::signbit(half_width)) refuse("the number after ± must not be negative");
    return checked({.shape = half_width > 0.0 ? Shape::normal : Shape::exact,
                    .mid = mid,
                    .half_width = half_width});
  }

  Distribution range(double low, double high) const {
    if (low > high)
      refuse("the limits stand in the wrong order", "", "write the smaller one first");
    checked({.mid = low});
    checked({.mid = high});
    return {.shape = low < high ? Shape::uniform : Shape::exact,
            .mid = low / 2.0 + high / 2.0,
            .half_width = high / 2.0 - low / 2.0};
  }

  Distribution times_over(double mid, const Number& factor) const {
    if (row_.dimension == Dimension::temperature)
      refuse("a factor on a temperature has no meaning, as its zero is a convention", "",
             "write the spread in degrees, ± 5 degC");
    if (!factor.unit.empty()) refuse_unit_of_factor();
    if (!(factor.value >= 1.0)) refuse("the factor after ×/÷ must be at least 1");
    if (!(mid > 0.0)) refuse("a value with ×/÷ must be positive");
    return checked({.shape = factor.value > 1.0 ? Shape::log_normal : Shape::exact,
                    .mid = mid,
                    .half_width = std::log(factor.value)});
  }

  Distribution checked(const Distribution& d) const {
    if (!(std::abs(d.mid) < too_large && d.half_width < too_large))
      refuse("the number is too large");
    if (row_.dimension == Dimension::temperature && d.mid < 0.0)
      refuse("below absolute zero", "", "the lowest temperature is -273.15 degC");
    return d;
  }

  std::string_view text_;
  std::string simple_;
  const DimensionRow& row_;
};

}  // namespace

std::variant<Distribution, ReadProblem> read_quantity(std::string_view text, Dimension expected) {
  try {
    return Reader(text, expected).quantity();
  } catch (const ReadProblem& problem) {
    return problem;
  }
}

std::variant<Distribution, ReadProblem> read_spread(std::string_view text, Dimension expected,
                                                    double mid) {
  try {
    return Reader(text, expected).spread(mid);
  } catch (const ReadProblem& problem) {
    return problem;
  }
}

std::variant<Distribution, ReadProblem> read_within(std::string_view text, Dimension expected,
                                                    const Distribution& distribution) {
  try {
    return Reader(text, expected).within(distribution);
  } catch (const ReadProblem& problem) {
    return problem;
  }
}

std::string accepted_units(Dimension expected) {
  std::string out;
  for (const UnitSpelling& unit : row_of(expected).units) {
    if (unit.text == "1") continue;
    if (!out.empty()) out += ", ";
    out += unit.text;
  }
  if (expected == Dimension::ratio) return "accepted units: " + out + ", or a bare number";
  return "accepted units: " + out;
}

}  // namespace ohmdrag

#include "ohmdrag/quantity/read.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numeric>
#include <utility>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag {
namespace {

// Numbers from here on are the limits of an untruncated Distribution, not values.
constexpr double too_large = 1e300;

enum class Sign { none, plus_minus, range, factor };

/// `left sign right`, blanks cut off.
struct Parts {
  Sign sign = Sign::none;
  std::string_view left;
  std::string_view right;
};

struct Number {
  double value = 0.0;
  std::string_view unit;  ///< as typed
};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// Unusual blanks and the typographic minus in the plain spelling.
std::string simplified(std::string_view text) {
  constexpr std::array<std::pair<std::string_view, char>, 4> signs{
      {{"\u00a0", ' '}, {"\u2009", ' '}, {"\u202f", ' '}, {"\u2212", '-'}}};
  std::string out;
  while (!text.empty()) {
    const auto sign =
        std::ranges::find_if(signs, [&](const auto& s) { return text.starts_with(s.first); });
    out += sign == signs.end() ? text.front() : sign->second;
    text.remove_prefix(sign == signs.end() ? 1 : sign->first.size());
  }
  return out;
}

/// The length of the first of these spellings that the text starts with, or 0.
std::size_t length_at(std::string_view text, std::initializer_list<std::string_view> spellings) {
  for (const std::string_view s : spellings)
    if (text.starts_with(s)) return s.size();
  return 0;
}

/// × x * before the stroke, ÷ : after it.
std::size_t factor_sign_at(std::string_view text) {
  const std::size_t times = length_at(text, {"×", "x", "*"});
  if (times == 0 || !text.substr(times).starts_with('/')) return 0;
  const std::size_t over = length_at(text.substr(times + 1), {"÷", ":"});
  return over == 0 ? 0 : times + 1 + over;
}

Parts split(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::string_view rest = text.substr(i);
    const auto parts = [&](Sign sign, std::size_t length) {
      return Parts{sign, trimmed(text.substr(0, i)), trimmed(rest.substr(length))};
    };
    if (const std::size_t n = length_at(rest, {"±", "+/-", "+-"}))
      return parts(Sign::plus_minus, n);
    if (const std::size_t n = length_at(rest, {"…", "...", ".."})) return parts(Sign::range, n);
    if (const std::size_t n = factor_sign_at(rest)) return parts(Sign::factor, n);
  }
  return {Sign::none, trimmed(text), {}};
}

/// The text in quotes, short and without control characters, fit for a one-line message.
std::string quoted(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::string out(text.substr(0, longest));
  if (text.size() > longest) {
    // Not in the middle of a UTF-8 sequence.
    while (!out.empty() && (out.back() & '\xc0') == '\x80') out.pop_back();
    if (!out.empty() && (out.back() & '\x80') != 0) out.pop_back();
    out += "…";
  }
  for (char& c : out)
    if ((c >= 0 && c < ' ') || c == '\x7f') c = '?';
  return '"' + out + '"';
}

std::string joined(const std::vector<Dimension>& dimensions) {
  std::string out;
  for (const Dimension d : dimensions) {
    if (!out.empty()) out += " or ";
    out += row_of(d).with_article;
  }
  return out;
}

std::string without_signs(std::string_view unit) {
  std::string out;
  for (const char c : unit)
    if (c != '*' && c != '(' && c != ')')
      out += c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  return out;
}

/// Levenshtein distance.
std::size_t edits_between(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = std::exchange(row[0], i + 1);
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t change = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({row[j] + 1, row[j + 1] + 1, change});
    }
  }
  return row.back();
}

/// The accepted spelling that was probably meant, or nothing. The same letters in another case or
/// with other brackets count as equal; else at most one letter in three may differ, never the
/// first.
std::string_view nearest_unit(std::string_view typed, Dimension expected) {
  constexpr std::size_t longest = 24;
  const std::string wanted = without_signs(canonical_unit(typed));
  if (wanted.empty() || wanted.size() > longest) return {};
  std::string_view best;
  std::pair<std::size_t, std::size_t> best_score{std::max<std::size_t>(1, wanted.size() / 3), 99};
  for (const UnitSpelling& unit : row_of(expected).units) {
    const std::string known = without_signs(unit.text);
    if (known == "deg" + wanted) return unit.text;
    if (known.front() != wanted.front()) continue;
    const std::size_t longer = std::max(known.size(), wanted.size());
    const std::pair score{edits_between(wanted, known),
                          longer - std::min(known.size(), wanted.size())};
    if (score < best_score) {
      best = unit.text;
      best_score = score;
    }
  }
  return best;
}

/// Reads one text; every refusal is thrown as a ReadProblem and ends in the public functions.
class Reader {
 public:
  Reader(std::string_view text, Dimension expected)
      : text_(text), simple_(simplified(text)), row_(row_of(expected)) {}

  Distribution quantity() const {
    const Parts parts = split(simple_);
    if (parts.left.empty()) refuse("no number", "; expected " + wanted());
    const Number left = number(parts.left);
    if (parts.sign == Sign::none) return checked({.mid = value_of(left, unit_of(left))});
    return spread_value(parts.sign, left, right_side(parts));
  }

  Distribution spread(double mid) const {
    const Parts parts = split(simple_);
    if (parts.sign == Sign::none)
      refuse("a spread starts with ±, ×/÷ or is a range", "",
             "write \"± 20 %\", \"×/÷ 3\" or \"10 … 40\" with a unit");
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

 private:
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

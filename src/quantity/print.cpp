#include "ohmdrag/quantity/print.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace ohmdrag {
namespace {

/// A finite number as decimal digits: +-0.DIGITS x 10^exponent, no digits for zero.
struct Decimal {
  bool negative = false;
  std::string digits;
  int exponent = 0;

  /// Place of the first digit: 0 for units, 1 for tens, -1 for tenths.
  int first_place() const { return exponent - 1; }
};

/// The shortest decimal that reads back as the same number, so that a typed 2.675 is rounded as
/// 2.675 and not as its binary neighbour 2.67499999999999982.
Decimal decimal_of(double value) {
  std::array<char, 32> buffer{};
  const auto end =
      std::to_chars(buffer.begin(), buffer.end(), std::abs(value), std::chars_format::scientific)
          .ptr;
  const std::string_view text(buffer.begin(), end);
  const std::size_t e = text.find('e');
  Decimal out{.negative = value < 0.0, .digits = {}, .exponent = 0};
  for (const char c : text.substr(0, e))
    if (c != '.') out.digits += c;
  // from_chars knows no plus sign.
  const std::string_view power = text.substr(text[e + 1] == '+' ? e + 2 : e + 1);
  std::from_chars(power.begin(), power.end(), out.exponent);
  out.exponent += 1;
  while (out.digits.ends_with('0')) out.digits.pop_back();
  if (out.digits.empty()) return {};
  return out;
}

/// Rounded to a multiple of 10^place, halves away from zero.
Decimal rounded(Decimal d, int place) {
  const int kept = d.exponent - place;
  if (kept >= static_cast<int>(d.digits.size())) return d;
  if (kept < 0) return {};
  const bool up = d.digits[static_cast<std::size_t>(kept)] >= '5';
  d.digits.resize(static_cast<std::size_t>(kept));
  if (up) {
    while (d.digits.ends_with('9')) d.digits.pop_back();
    if (d.digits.empty()) {
      d.digits.assign(1, '1');
      d.exponent += 1;
    } else {
      d.digits.back() = static_cast<char>(d.digits.back() + 1);
    }
  }
  while (d.digits.ends_with('0')) d.digits.pop_back();
  if (d.digits.empty()) return {};
  return d;
}

/// How many digits stand after the decimal point.
int decimals_of(const Decimal& d) {
  return std::max(0, static_cast<int>(d.digits.size()) - d.exponent);
}

char digit_at(const Decimal& d, int place) {
  const int i = d.exponent - 1 - place;
  if (i < 0 || i >= static_cast<int>(d.digits.size())) return '0';
  return d.digits[static_cast<std::size_t>(i)];
}

std::string plain(const Decimal& d, int decimals) {
  std::string out = d.negative ? "-" : "";
  for (int place = std::max(0, d.first_place()); place >= 0; --place) out += digit_at(d, place);
  if (decimals > 0) out += '.';
  for (int place = -1; place >= -decimals; --place) out += digit_at(d, place);
  return out;
}

std::string with_exponent(const Decimal& d, int decimals) {
  if (d.digits.empty()) return "0";
  std::string out = d.negative ? "-" : "";
  out += d.digits.front();
  if (decimals > 0) out += '.';
  for (int i = 1; i <= decimals; ++i) out += digit_at(d, d.first_place() - i);
  return out + "e" + std::to_string(d.first_place());
}

/// True from 1e-4 up to 1e7.
bool reads_well_plain(const Decimal& d) {
  return d.digits.empty() || (d.first_place() >= -4 && d.first_place() < 7);
}

// Ends closer than this are one number with the noise of arithmetic.
constexpr double noise = 1e-9;
constexpr int digits_of_an_exact_number = 4;

const UnitSpelling& printing_unit(double si_value, Dimension dimension) {
  const auto units = row_of(dimension).units;
  const double size = si_value == 0.0 || !std::isfinite(si_value) ? 1.0 : std::abs(si_value);
  // A hair of slack: 1000 m that arithmetic left at 999.9999999999 m is still 1 km.
  const auto starts = [&](const UnitSpelling& u) {
    return u.print_from <= size * (1.0 + noise) ? u.print_from : -1.0;
  };
  return *std::ranges::max_element(units, {}, starts);
}

double in_unit(double si_value, const UnitSpelling& unit) {
  return (si_value - unit.offset) / unit.factor;
}

std::string with_unit(std::string number, const UnitSpelling& unit) {
  if (unit.text == "1" || number == "n/a") return number;
  number += ' ';
  number += unit.text;
  return number;
}

/// "3.1 (2.4 … 3.9)": all three rounded where the half-width has its second digit.
std::string around_the_middle(const Interval& v) {
  const Decimal half = decimal_of((v.high - v.low) / 2.0);
  const int place = rounded(half, half.first_place() - 1).first_place() - 1;
  const std::array numbers{rounded(decimal_of(v.mid), place), rounded(decimal_of(v.low), place),
                           rounded(decimal_of(v.high), place)};
  const Decimal& largest = *std::ranges::max_element(
      numbers, {}, [](const Decimal& d) { return d.digits.empty() ? -1000 : d.exponent; });
  const bool use_plain = reads_well_plain(largest);

  int decimals = 0;
  for (const Decimal& d : numbers) decimals = std::max(decimals, decimals_of(d));
  const auto text = [&](const Decimal& d) {
    return use_plain ? plain(d, decimals) : with_exponent(d, std::max(0, d.first_place() - place));
  };
  return text(numbers[0]) + " (" + text(numbers[1]) + " … " + text(numbers[2]) + ")";
}

std::string interval_text(const Interval& v, bool zero_is_a_convention) {
  const double infinity = std::numeric_limits<double>::infinity();
  if (std::isnan(v.low) || std::isnan(v.mid) || std::isnan(v.high)) return "n/a";
  if (v.exact()) return print_number(v.mid, digits_of_an_exact_number);
  if (v.low == -infinity && v.high == infinity) return "n/a";
  if (v.high == infinity) return "> " + print_number(v.low, 2);
  if (v.low == -infinity) return "< " + print_number(v.high, 2);

  const double a = std::min(std::abs(v.low), std::abs(v.high));
  const double b = std::max(std::abs(v.low), std::abs(v.high));
  if (v.high - v.low <= noise * b) return print_number(v.mid, digits_of_an_exact_number);
  const bool one_sign = v.low >= 0.0 || v.high <= 0.0;
  if (one_sign && b >= 10.0 * a && !zero_is_a_convention)
    return print_number(v.low, 2) + " … " + print_number(v.high, 2);
  return around_the_middle(v);
}

}  // namespace

std::string print_number(double value, int digits) {
  if (digits < 1) throw std::invalid_argument("print: a number needs at least one digit");
  if (std::isnan(value)) return "n/a";
  if (std::isinf(value)) return value > 0.0 ? "infinite" : "-infinite";
  const Decimal exact = decimal_of(value);
  const Decimal d = rounded(exact, exact.exponent - digits);
  if (reads_well_plain(d)) return plain(d, decimals_of(d));
  return with_exponent(d, static_cast<int>(d.digits.size()) - 1);
}

std::string_view engineering_unit(double si_value, Dimension dimension) {
  return printing_unit(si_value, dimension).text;
}

std::string print_quantity(double si_value, Dimension dimension, int digits) {
  const UnitSpelling& unit = printing_unit(si_value, dimension);
  return with_unit(print_number(in_unit(si_value, unit), digits), unit);
}

std::string print_interval(const Interval& si, Dimension dimension, std::string_view unit) {
  const UnitSpelling* spelling = nullptr;
  if (unit.empty()) {
    // The finite number that says most about the size.
    double size = std::isfinite(si.mid) ? si.mid : si.low;
    if (size == 0.0) size = std::isfinite(si.high) ? si.high : si.low;
    spelling = &printing_unit(size, dimension);
  } else {
    spelling = find_unit(dimension, unit);
    if (!spelling)
      throw std::invalid_argument("print: \"" + std::string(unit) + "\" is not a unit of " +
                                  std::string(row_of(dimension).with_article));
  }
  const Interval v{in_unit(si.low, *spelling), in_unit(si.mid, *spelling),
                   in_unit(si.high, *spelling)};
  return with_unit(interval_text(v, spelling->offset != 0.0), *spelling);
}

std::string print_interval(const Interval& value) { return interval_text(value, false); }

InUnit in_engineering_unit(const Interval& si, Dimension dimension) {
  const std::string_view name = engineering_unit(si.mid, dimension);
  const UnitSpelling& unit = *find_unit(dimension, name);
  const auto scaled = [&](double value) { return (value - unit.offset) / unit.factor; };
  return {{scaled(si.low), scaled(si.mid), scaled(si.high)},
          dimension == Dimension::ratio ? std::string() : std::string(name)};
}

}  // namespace ohmdrag

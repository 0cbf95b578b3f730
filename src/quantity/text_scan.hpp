#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/quantity/dimension.hpp"

/// The pieces of a text that holds a quantity, before anybody knows what it means.
namespace ohmdrag::text_scan {

enum class Sign { none, plus_minus, range, factor };

/// `left sign right`, blanks cut off.
struct Parts {
  Sign sign = Sign::none;
  std::string_view left;
  std::string_view right;
};
/// At the first sign.
Parts split(std::string_view text);

/// `text within limits`, blanks cut off.
struct Limited {
  std::string_view text;
  std::optional<std::string_view> limits;
};
Limited split_limits(std::string_view text);

bool is_digit(char c);
std::string_view trimmed(std::string_view text);
/// Unusual blanks and the typographic minus in the plain spelling.
std::string simplified(std::string_view text);
/// The text in quotes, short and without control characters, fit for a one-line message.
std::string quoted(std::string_view text);
/// Small letters, without brackets and stars.
std::string without_signs(std::string_view unit);
/// The accepted spelling that was probably meant, or nothing. The same letters in another case or
/// with other brackets count as equal; else at most one letter in three may differ, never the
/// first.
std::string_view nearest_unit(std::string_view typed, Dimension expected);

}  // namespace ohmdrag::text_scan

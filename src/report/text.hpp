#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace ohmdrag::report {

/// Text that a terminal can only show, never obey: control characters (C0, DEL, C1), direction
/// marks, line separators and broken UTF-8 become U+FFFD, line ends and tabs become blanks.
std::string harmless(std::string_view text);

/// JSON in which every character that a terminal could obey stands as a \u escape; it reads back to
/// the same text.
std::string escaped_for_terminal(std::string_view json);

/// Columns that a terminal gives to harmless text: combining marks none, East Asian wide characters
/// and emoji two, all others one.
std::size_t display_width(std::string_view text);

/// The text in lines of at most so many columns, broken at blanks; only a word wider than a line is
/// broken inside, at a joint (. - _ / , :) where it has one. At least one line.
std::vector<std::string> wrapped(std::string_view text, std::size_t width);

/// The text, or its beginning and "…" when it is wider.
std::string elided(std::string_view text, std::size_t width);

/// The text with blanks up to the width, after it or before it.
std::string padded_right(std::string_view text, std::size_t width);
std::string padded_left(std::string_view text, std::size_t width);

/// True for one number without blanks, with or without a sign: what stands in a column of figures.
bool is_number(std::string_view text);

}  // namespace ohmdrag::report

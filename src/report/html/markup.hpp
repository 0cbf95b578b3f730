#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/page.hpp"

/// Text and blocks as HTML.
namespace ohmdrag::report {

/// A character as itself or, where it would begin or end markup, as its reference.
void append_markup_free(char c, std::string& out);

/// Text that stays text between tags and in a quoted attribute; made harmless first, so direction
/// marks and control characters become U+FFFD.
std::string escaped(std::string_view text);

/// `text` cut to what a heading can carry, escaped.
std::string escaped_heading(std::string_view text);

/// "3.1" with its "(2.4 … 3.9)" in a span of its own.
std::string markup(const Cell& cell);

/// A table under its caption. More columns than a page holds side by side: rows become columns.
std::string markup(const Table& table, std::string_view caption);

/// Blocks in their order; headings become h3, paragraphs that begin with "· " items of a list.
std::string markup(const std::vector<Block>& blocks);

}  // namespace ohmdrag::report

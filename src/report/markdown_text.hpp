#pragma once

#include <string>
#include <string_view>

#include "report/table.hpp"

namespace ohmdrag::report {

/// Words that Markdown shows as they are, in one line. Source: CommonMark 0.30, section 2.4
/// (backslash escapes); GitHub Flavored Markdown 0.29, sections 4.10 (a bar ends a cell), 6.5
/// and 6.9 (what becomes a strikethrough or a link by itself).
std::string markdown_text(std::string_view text);

/// The same at the begin of a line, where more has a meaning (CommonMark 0.30, sections 4.3
/// and 5.2).
std::string markdown_line(std::string_view text);

/// The table with its units in the heads; turned where it asks for it or has more columns than a
/// page holds.
std::string markdown_table(const Table& table);

}  // namespace ohmdrag::report

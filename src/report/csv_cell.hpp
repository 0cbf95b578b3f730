#pragma once

#include <string>

namespace ohmdrag::report {

/// A text as a cell of a CSV file: harmless, and in quotes where it needs them. Source: RFC 4180,
/// section 2: a cell with a comma or a quote stands in quotes, its quotes doubled.
std::string csv_cell(const std::string& text);

/// The same, with an apostrophe before what a spreadsheet would compute. Common practice, no
/// source; a text that is one number stays as it is.
std::string csv_cell_for_spreadsheets(const std::string& text);

}  // namespace ohmdrag::report

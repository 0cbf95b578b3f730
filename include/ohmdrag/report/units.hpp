#pragma once

#include <string>
#include <vector>

#include "ohmdrag/report/terminal.hpp"

namespace ohmdrag::report {

/// Heads and rows of a list, for plain_table and json_table.
struct List {
  std::vector<std::string> heads;
  std::vector<std::vector<std::string>> rows;
};

/// Dimension, SI unit, accepted spellings.
List unit_rows();

/// The accepted units of every dimension, the ways to write an interval and what each means.
std::string units_list(const TerminalOptions& options = {});

}  // namespace ohmdrag::report

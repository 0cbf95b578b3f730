#pragma once

#include <string>
#include <vector>

#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::report {

struct CsvFile {
  std::string name;  ///< "budget.csv"
  std::string content;
};

/// The result document as tidy tables, one file a table, one line an observation, UTF-8, quoted as
/// RFC 4180, section 2, says, line ends as in Unix.
///
/// Names of columns are keys of the document with their units; an interval has three columns,
/// `_low`, `_mid` and `_high`, 95 %. Numbers read back to the same double; what does not exist is
/// an empty cell; flags are `true` and `false`. A text that a spreadsheet could take for a formula
/// (it begins with = + - @) begins with an apostrophe instead; a text that is one number does not.
/// What a terminal could obey is replaced.
std::vector<CsvFile> csv(const study::Findings& findings);

}  // namespace ohmdrag::report

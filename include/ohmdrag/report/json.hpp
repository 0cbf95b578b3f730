#pragma once

#include <string>
#include <vector>

#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::report {

/// The result document "ohmdrag-result/1", two blanks a level, with a line end at the end.
///
/// Every key carries its unit; the order of keys is fixed; numbers read back to the same double.
/// A figure that is infinite or undefined is null, and the field beside it says why
/// (`no_discharge`, `no_limit`, `not_applicable`, a flag). A section of the variants appears when
/// any of them has rows in it, and always in a trade study. Text that is not UTF-8 is replaced by
/// U+FFFD; what a terminal could take for a command is escaped.
///
/// `combined_h` holds the competing-risk life, `combined_linear_h` linear damage; `electrical` is
/// the first law that the case names, `electrical_by_law` all of them.
std::string json(const study::Findings& findings);

/// The same for a list: {"schema": "ohmdrag-list/1", "kind", "rows": [{head: cell}]}.
///
/// \throws std::invalid_argument if a row has not as many cells as there are heads, or two heads
///         are equal.
std::string json_table(const std::string& kind, const std::vector<std::string>& heads,
                       const std::vector<std::vector<std::string>>& rows);

}  // namespace ohmdrag::report

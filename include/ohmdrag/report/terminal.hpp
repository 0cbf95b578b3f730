#pragma once

#include <string>
#include <vector>

#include "ohmdrag/study/findings.hpp"

/// Text for a terminal. Whatever the case says is made harmless first: control characters, escape
/// sequences, direction marks and broken UTF-8 come out as U+FFFD, line ends and tabs as blanks.
namespace ohmdrag::report {

struct TerminalOptions {
  int width = 100;      ///< columns; a table that needs more is turned or split, never cut
  bool colour = false;  ///< bold heads; false gives pure text
};

/// The findings in the order of their command: trade, budget, energy, ground or life; any other
/// command shows all sections that have rows. Figures read "mid (low … high)" with digits that
/// follow the interval; flags are footnotes.
std::string terminal(const study::Findings& findings, const TerminalOptions& options);

/// Any list as a table.
///
/// \throws std::invalid_argument if a row has not as many cells as there are heads.
std::string plain_table(const std::vector<std::string>& heads,
                        const std::vector<std::vector<std::string>>& rows,
                        const TerminalOptions& options);

/// A value of a case as it was understood, with the reason to believe it.
struct ValueRow {
  std::string name;   ///< "coupling.winding_rotor"
  std::string value;  ///< printed, SI or as the caller likes
  std::string unit;
  std::string basis;  ///< the word
  std::string source;
  std::string share;  ///< the word
};

/// All values, aligned.
std::string checked_values(const std::vector<ValueRow>& values, const TerminalOptions& options);

}  // namespace ohmdrag::report

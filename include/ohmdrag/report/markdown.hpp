#pragma once

#include <string>

#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::report {

/// All sections of the terminal, whatever the command, as CommonMark with the tables of GitHub
/// Flavored Markdown 0.29: the answer first, footnotes under their tables, the whole register
/// folded at the end. Whatever the case says shows as text: marks of Markdown, HTML and addresses
/// are escaped, and what a terminal could obey is replaced.
std::string markdown(const study::Findings& findings);

}  // namespace ohmdrag::report

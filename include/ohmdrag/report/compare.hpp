#pragma once

#include <string>

#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/study/compare.hpp"

/// Two cases side by side: to people and to programs.
namespace ohmdrag::report {

std::string comparison(const study::Comparison& comparison, const TerminalOptions& options);

/// The document "ohmdrag-compare/1".
std::string comparison_json(const study::Comparison& comparison, const std::string& version);

}  // namespace ohmdrag::report

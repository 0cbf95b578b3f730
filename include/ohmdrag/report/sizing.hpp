#pragma once

#include <string>

#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/study/sizing.hpp"

/// The window of an element: to people and to programs.
namespace ohmdrag::report {

std::string sizing(const study::SizingFindings& findings, const TerminalOptions& options);

/// The document "ohmdrag-size/1".
std::string sizing_json(const study::SizingFindings& findings, const std::string& version);

}  // namespace ohmdrag::report

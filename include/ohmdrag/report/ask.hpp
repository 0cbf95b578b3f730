#pragma once

#include <string>

#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/study/ask.hpp"

/// Questions that could turn the answer: to people and to programs.
namespace ohmdrag::report {

/// Ready to paste into a message.
std::string questions(const study::AskFindings& findings, const TerminalOptions& options);

/// The document "ohmdrag-ask/1".
std::string questions_json(const study::AskFindings& findings, const std::string& version);

}  // namespace ohmdrag::report

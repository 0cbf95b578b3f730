#pragma once

#include <string>
#include <vector>

#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/study/explain.hpp"

/// The working of a figure: to people and to programs.
namespace ohmdrag::report {

/// One line a step, never broken: "symbol = expression = value unit   meaning [valid: …] [from:
/// …]". Values have ten digits, so that whoever retypes the expression with them meets what is
/// printed.
std::string explain_text(const std::vector<study::ExplainLine>& lines);

/// The page of one figure.
std::string explanation(const study::Explanation& explanation, const TerminalOptions& options);

/// What can be explained, a line each.
std::string explainable(const std::vector<study::ExplainableFigure>& figures,
                        const TerminalOptions& options);

/// The documents "ohmdrag-explain/1", of one figure or of their list.
std::string explanation_json(const study::Explanation& explanation, const std::string& version);
std::string explainable_json(const std::vector<study::ExplainableFigure>& figures,
                             const std::string& version);

}  // namespace ohmdrag::report

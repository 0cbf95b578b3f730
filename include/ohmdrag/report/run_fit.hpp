#pragma once

#include <string>

#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/rig/run_findings.hpp"

/// What a fitted run says: to people, to programs and to a case.
namespace ohmdrag::report {

/// For a terminal.
std::string run_fit(const rig::RunFindings& findings, const TerminalOptions& options);

/// The document "ohmdrag-fit/1": keys with their unit, numbers that read back to the same double,
/// null for what the run does not tell and for an interval without an end.
std::string run_fit_json(const rig::RunFindings& findings);

/// TOML that a case can include: what the run tells, each value with its 95 % interval, basis
/// "measured" and the run as source. Empty where it tells nothing that a case takes.
std::string run_fit_toml(const rig::RunFindings& findings, const std::string& version);

}  // namespace ohmdrag::report

#pragma once

#include <string>

#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/study/sump_run.hpp"

/// What a fitted run says: to people, to programs and to a case.
namespace ohmdrag::report {

/// For a terminal.
std::string run_fit(const study::SumpFindings& findings, const TerminalOptions& options);

/// The document "ohmdrag-fit/1": keys with their unit, numbers that read back to the same double,
/// null for what the run does not tell.
std::string run_fit_json(const study::SumpFindings& findings);

/// TOML that a case can include: the section [sump] of what the run tells, each value with its 95 %
/// interval, basis "measured" and the run as source. Empty where it tells neither heat capacity nor
/// conductance.
std::string run_fit_toml(const study::SumpFindings& findings, const std::string& version);

}  // namespace ohmdrag::report

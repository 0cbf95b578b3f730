#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/quantity/share.hpp"
#include "ohmdrag/rig/run_findings.hpp"

namespace ohmdrag::input {

/// The fit of a run that was read without complaint.
/// \throws std::invalid_argument, in words, for a run that no fit should be made of.
using RunFit = std::function<rig::RunFindings()>;

/// Reads a measured run: a TOML file that says what was measured, and the logs it names.
///
/// \throws InputError with every problem of the file, of the `--set`s, of the logs or of the case
/// it
///         names.
RunFit load_run(const std::filesystem::path& file, const LoadOptions& options = {});

/// Keys of the run, and of the case that it names, that a reader must not see, each once; what says
/// nothing is for customers.
/// \throws InputError as load_run(), for the files themselves
std::vector<std::string> sealed_in_run(const std::filesystem::path& file,
                                       const LoadOptions& options, Share reader);

}  // namespace ohmdrag::input

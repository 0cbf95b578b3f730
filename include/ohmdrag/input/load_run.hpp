#pragma once

#include <filesystem>
#include <functional>

#include "ohmdrag/input/load_case.hpp"
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

}  // namespace ohmdrag::input

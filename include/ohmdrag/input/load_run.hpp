#pragma once

#include <filesystem>

#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/study/sump_run.hpp"

namespace ohmdrag::input {

/// Reads a measured run: a TOML file that says what was measured, and the log it names.
///
/// \throws InputError with every problem of the file, of the `--set`s, of the log or of the case it
///         names.
study::SumpLog load_run(const std::filesystem::path& file, const LoadOptions& options = {});

}  // namespace ohmdrag::input

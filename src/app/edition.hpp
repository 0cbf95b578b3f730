#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>
#include <string>

#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::app {

/// Whom a report is for; none: the own house, which sees everything.
using Reader = std::optional<std::string>;

CLI::Option* add_reader(CLI::App& command, Reader& reader);

/// The findings as the reader may see them, with the hashes of the open part of the case in place
/// of those of the files. Unless `quiet`, notes on standard error say which figures give a sealed
/// value away and where one stands all the same; they name keys, never values.
study::Findings edition_for(const std::string& reader, const std::filesystem::path& file,
                            const study::Case& question, study::Findings findings, bool quiet);

}  // namespace ohmdrag::app

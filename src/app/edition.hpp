#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>

#include "app/commands.hpp"
#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/edition.hpp"
#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::app {

/// Whom a report is for; none: the own house, which sees everything.
using Reader = std::optional<std::string>;

CLI::Option* add_reader(CLI::App& command, Reader& reader);
Share level_of(const Reader& reader);

/// What the function reads; what is wrong with it is quoted to the own house alone.
/// \throws UsageError for a reader, in place of the problems
template <class Read>
auto read_for(const Reader& reader, const std::filesystem::path& file, const Read& read) {
  try {
    return read();
  } catch (const input::InputError& error) {
    if (!reader) throw;
    throw UsageError(file.string() + ": " + std::to_string(error.problems.size()) +
                     " problems, which quote values; without --for they are shown");
  }
}

/// The case; ids with the digits of a sealed number are refused, because they stand everywhere.
study::Case case_for_reader(const Reader& reader, const std::filesystem::path& file,
                            const Common& common);

/// What the work returns; what it says of the case when it fails is told without sealed numbers.
template <class Work>
auto told_to(const Reader& reader, const study::Case& question, const Work& work) {
  const auto without = [&](const std::exception& error) {
    return UsageError(
        study::without_sealed(error.what(), study::sealed_numbers(question, level_of(reader))));
  };
  try {
    return work();
  } catch (const std::invalid_argument& error) {
    if (!reader) throw;
    throw without(error);
  } catch (const std::domain_error& error) {
    if (!reader) throw;
    throw without(error);
  }
}

/// The findings as the reader may see them, with the hashes of the open part of the case in place
/// of those of the files. Unless `quiet`, notes on standard error say which figures give a sealed
/// value away and where one stands all the same; they name keys, never values.
/// \param file  of the case; none: it was typed as options
study::Findings edition_for(const std::string& reader,
                            const std::optional<std::filesystem::path>& file,
                            const study::Case& question, study::Findings findings, bool quiet);

/// The hash of a file of the case as the reader may have it.
std::string hash_for(Share reader, const std::filesystem::path& file, const study::Case& question,
                     const std::string& sha256);

/// The notes of edition_for() about another document, which holds figures of the case.
void note_edition(const Reader& reader, const study::Case& question, const std::string& document,
                  bool quiet);

}  // namespace ohmdrag::app

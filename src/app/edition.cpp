#include "app/edition.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <iostream>
#include <utility>

#include "ohmdrag/input/case_edition.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/report/json.hpp"
#include "ohmdrag/report/leaks.hpp"

namespace ohmdrag::app {
namespace {

void note_what_gives_away(const study::Case& question, Share reader) {
  for (const study::GivesAway& one : study::gives_away(question, reader)) {
    const std::string whose = one.variant.empty() ? "" : " of " + one.variant;
    std::cerr << fmt::format(
        "note: {} can be computed back: with the rest of the case known, {}{} tells it{}\n",
        one.key, one.figure, whose,
        one.per_cent > 0.0 ? fmt::format(" (it moves by {} % for {} of the value)",
                                         print_number(one.per_cent, 2), one.moved_by)
                           : "");
  }
}

/// A `--set` of something sealed that is no number: its table is sealed.
void hide_sets(const std::vector<std::string>& sealed_keys, std::vector<std::string>& sets) {
  for (std::string& set : sets) {
    const std::string key = study::key_of_set(set);
    for (const std::string& sealed : sealed_keys)
      if (key == sealed || key.starts_with(sealed + '.') || sealed.starts_with(key + '.'))
        set = key + "=[sealed]";
  }
}

}  // namespace

CLI::Option* add_reader(CLI::App& command, Reader& reader) {
  return command
      .add_option("--for", reader,
                  "Whom the result is for: of what is sealed for them basis, rank and band are "
                  "shown, or the command says why it cannot")
      ->check(CLI::IsMember({"customer", "open"}))
      ->type_name("READER");
}

Share level_of(const Reader& reader) {
  return reader ? share_from_word(*reader).value() : Share::internal;
}

study::Case case_for_reader(const Reader& reader, const std::filesystem::path& file,
                            const Common& common) {
  study::Case question = read_for(reader, file, [&] {
    return input::load_case(file, {common.sets, common.data_folder});
  });
  const std::vector<std::string> telling =
      study::ids_that_tell(question, study::sealed_numbers(question, level_of(reader)));
  if (!telling.empty())
    throw UsageError(fmt::format("{}: {} ids hold the digits of sealed numbers; rename those of {}",
                                 file.string(), telling.size(), fmt::join(telling, ", ")));
  return question;
}

std::string hash_for(Share reader, const std::filesystem::path& file, const study::Case& question,
                     const std::string& sha256) {
  for (const input::EditionFile& open : input::case_for(reader, file, question).files)
    if (open.name == file.string()) return open.sha256;
  return sha256;
}

study::Findings edition_for(const std::string& reader,
                            const std::optional<std::filesystem::path>& file,
                            const study::Case& question, study::Findings findings, bool quiet) {
  const Share level = level_of(reader);
  findings = study::findings_for(level, question, std::move(findings));
  if (file) {
    const input::CaseEdition edition = input::case_for(level, *file, question);
    hide_sets(edition.sealed_keys, findings.changes);
    findings.sealed_sha256 = edition.sealed_sha256;
    for (const input::EditionFile& open : edition.files) {
      if (open.name == findings.file) findings.sha256 = open.sha256;
      for (auto& [name, sha256] : findings.includes)
        if (name == open.name) sha256 = open.sha256;
    }
  }
  if (quiet || findings.sealed_keys.empty()) return findings;
  if (findings.sealed_sha256.empty())
    std::cerr << "note: no hash of what is sealed: it could be found by trial; give the case a "
                 "study.seal of twenty characters or more\n";
  note_edition(reader, question, report::json(findings), quiet);
  return findings;
}

void note_edition(const Reader& reader, const study::Case& question, const std::string& document,
                  bool quiet) {
  const std::vector<UncertainNumber> sealed = study::sealed_numbers(question, level_of(reader));
  if (quiet || sealed.empty()) return;
  note_what_gives_away(question, level_of(reader));
  for (const report::Leak& leak : report::leaks(document, sealed))
    std::cerr << fmt::format("note: the sealed value of {} stands in the document at {}\n",
                             leak.key, leak.path);
}

}  // namespace ohmdrag::app

#include "app/edition.hpp"

#include <fmt/format.h>

#include <iostream>
#include <utility>

#include "ohmdrag/input/case_edition.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/report/leaks.hpp"
#include "ohmdrag/study/edition.hpp"

namespace ohmdrag::app {
namespace {

void note_what_gives_away(const study::Case& question, Share reader) {
  for (const study::GivesAway& one : study::gives_away(question, reader)) {
    const std::string whose = one.variant.empty() ? "" : " of " + one.variant;
    std::cerr << fmt::format(
        "note: {} can be computed back: with the rest of the case known, {}{} tells it{}\n",
        one.key, one.figure, whose,
        one.elasticity > 0.0 ? fmt::format(" (it moves by {} % for 1 % of the value)",
                                           print_number(one.elasticity, 2))
                             : "");
  }
}

}  // namespace

CLI::Option* add_reader(CLI::App& command, Reader& reader) {
  return command
      .add_option(
          "--for", reader,
          "Whom the report is for: values that are sealed for them show basis, rank and band")
      ->check(CLI::IsMember({"customer", "open"}))
      ->type_name("READER");
}

study::Findings edition_for(const std::string& reader, const std::filesystem::path& file,
                            const study::Case& question, study::Findings findings, bool quiet) {
  const Share level = share_from_word(reader).value();
  findings = study::findings_for(level, question, std::move(findings));
  const input::CaseEdition edition = input::case_for(level, file, question);
  findings.sealed_sha256 = edition.sealed_sha256;
  for (const input::EditionFile& open : edition.files) {
    if (open.name == findings.file) findings.sha256 = open.sha256;
    for (auto& [name, sha256] : findings.includes)
      if (name == open.name) sha256 = open.sha256;
  }
  if (quiet || findings.sealed_keys.empty()) return findings;
  if (findings.sealed_sha256.empty())
    std::cerr << "note: no hash of what is sealed: it could be found by trial; give the case a "
                 "study.seal of twenty characters or more\n";
  note_what_gives_away(question, level);
  for (const report::Leak& leak : report::leaks(findings, study::sealed_numbers(question, level)))
    std::cerr << fmt::format("note: the sealed value of {} stands in the document at {}\n",
                             leak.key, leak.path);
  return findings;
}

}  // namespace ohmdrag::app

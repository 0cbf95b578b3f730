#include <fmt/format.h>

#include <iostream>
#include <memory>
#include <variant>

#include "app/commands.hpp"
#include "app/edition.hpp"
#include "app/files.hpp"
#include "app/version.hpp"
#include "ohmdrag/quantity/read.hpp"
#include "ohmdrag/report/sizing.hpp"
#include "ohmdrag/study/other_editions.hpp"
#include "ohmdrag/study/sizing.hpp"

namespace ohmdrag::app {
namespace {

struct SizeOptions : Common {
  std::filesystem::path file;
  std::optional<std::string> variant, knob, from, to;
  bool seal = false;
  Reader reader;
};

/// The only variant beside the baseline that has the part.
std::string variant_of(const study::Case& question, const SizeOptions& options) {
  if (options.variant) return *options.variant;
  std::vector<std::string> able;
  for (const study::Variant& variant : question.variants) {
    const bool has = options.seal ? variant.seal.has_value()
                                  : variant.grounding && !std::holds_alternative<study::NoElement>(
                                                             variant.grounding->element.form);
    if (has) able.push_back(variant.id);
  }
  if (able.size() == 1) return able.front();
  std::string names;
  for (const std::string& id : able) names += (names.empty() ? "" : ", ") + id;
  throw UsageError(able.empty() ? "no variant has such an element to size"
                                : "--variant: name one of " + names);
}

double value_of(const std::string& text, const std::string& option, study::SizedBy knob) {
  const auto read = read_quantity(text, study::dimension_of(knob));
  if (const auto* problem = std::get_if<ReadProblem>(&read))
    throw UsageError(fmt::format("{}: {}; {}", option, problem->what, problem->hint));
  return std::get<Distribution>(read).mid;
}

study::SizingQuestion question_of(const study::Case& question, const SizeOptions& options) {
  study::SizingQuestion what;
  what.variant = variant_of(question, options);
  what.part = options.seal ? study::SizedPart::seal : study::SizedPart::grounding;
  if (options.knob) what.knob = study::sized_by_from(*options.knob);
  return what;
}

Exit run(const SizeOptions& options) {
  const study::Case question = case_for_reader(options.reader, options.file, options);
  study::SizingQuestion what = question_of(question, options);
  study::refuse_to_size_sealed(level_of(options.reader), question, what);
  study::SizingFindings findings;
  try {
    const study::SizedBy knob = study::knob_sized(question, what);
    if (options.from) what.from = value_of(*options.from, "--from", knob);
    if (options.to) what.to = value_of(*options.to, "--to", knob);
    findings =
        told_to(options.reader, question, [&] { return study::size_element(question, what); });
  } catch (const std::invalid_argument& error) {
    throw UsageError(fmt::format("{}: {}", options.file.string(), error.what()));
  }
  findings = study::sizing_for(level_of(options.reader), question, std::move(findings));
  const std::string document = report::sizing_json(findings, version);
  const Screen at = screen();
  std::cout << (options.json ? document : report::sizing(findings, {at.width, at.bold}));
  note_edition(options.reader, question, document, options.quiet);
  return Exit::done;
}

}  // namespace

void declare_size_command(CLI::App& cli, Exit& exit) {
  auto o = std::make_shared<SizeOptions>();
  CLI::App* command = cli.add_subcommand(
      "size", "How much element is enough: the window between too little and too much");
  command->add_option("CASE", o->file, "The case file")->required();
  command->add_option("--variant", o->variant, "Whose element; needed where several have one");
  command->add_flag("--seal", o->seal, "Size the lip of the seal, not the grounding element");
  command->add_option("--by", o->knob, "What of it is sized; else the force that the case states")
      ->check(CLI::IsMember(study::sized_by_words()));
  command->add_option("--from", o->from, "Begin of the range, \"0.005 N/mm\"; else a third");
  command->add_option("--to", o->to, "End of the range; else three times what the case has");
  add_reader(*command, o->reader);
  add_common(*command, *o);
  command->footer(
      "Example: ohmdrag size cases/parcel-van/case.toml --variant dense-ring --from \"0.005 "
      "N/mm\"");
  command->callback([o, &exit] { exit = run(*o); });
}

}  // namespace ohmdrag::app

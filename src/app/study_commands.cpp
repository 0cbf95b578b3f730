#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/edition.hpp"
#include "app/files.hpp"
#include "app/report_files.hpp"
#include "app/trip_progress.hpp"
#include "app/version.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/report/drag_map.hpp"
#include "ohmdrag/report/json.hpp"
#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/study/drag_map.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "ohmdrag/study/sizing.hpp"

namespace ohmdrag::app {
namespace {

struct StudyOptions : Common {
  std::filesystem::path file;
  std::optional<std::filesystem::path> out;
  ReportChoice reports;
  bool strict = false;
  Reader reader;
  std::optional<std::filesystem::path> drag_map;
  std::optional<std::string> variant;  ///< of the drag map; none: the baseline
  std::optional<std::string> shaft;    ///< of the drag map; none: the fastest
  bool with_window = false;
};

struct StudyCommand {
  std::string name;
  std::string what;
  std::string example;
  study::Sections sections;
};

const std::vector<StudyCommand>& study_commands() {
  static const std::vector<StudyCommand> commands{
      {"trade", "The whole trade study of a case",
       "ohmdrag trade cases/parcel-van/case.toml --out out/parcel-van", study::Sections::all()},
      {"budget",
       "Watts, torque and contact temperature per component at each operating point",
       "ohmdrag budget cases/parcel-van/case.toml --set shaft.rotor.diameter=\"50 mm\"",
       {.budget = true}},
      {"energy",
       "Energy per distance or per year and its effect on range",
       "ohmdrag energy cases/plug-in-hybrid/case.toml",
       {.energy = true}},
      {"ground",
       "Shaft voltage with and without the grounding path, and what strikes",
       "ohmdrag ground cases/parcel-van/case.toml --json",
       {.voltage = true}},
      {"life",
       "Discharges over the duty and bearing life",
       "ohmdrag life cases/pump-motor/case.toml",
       {.life = true}}};
  return commands;
}

bool all_met(const study::Findings& findings) {
  for (const auto& variant : findings.variants) {
    if (findings.trade && !findings.trade->chosen.empty() && variant.id != findings.trade->chosen)
      continue;
    for (const auto& row : variant.requirements)
      if (!row.met && !row.not_applicable) return false;
    for (const auto& row : variant.account)
      if (row.met && !*row.met) return false;
  }
  return !(findings.trade && findings.trade->chosen.empty());
}

void write_drag_map(const study::Case& question, const StudyOptions& options) {
  const std::string variant = options.variant.value_or(question.baseline);
  if (std::ranges::find(question.variants, variant, &study::Variant::id) == question.variants.end())
    throw UsageError(fmt::format("--variant: the case has no variant \"{}\"", variant));
  if (options.shaft && std::ranges::find(question.shafts, *options.shaft, &study::Shaft::id) ==
                           question.shafts.end())
    throw UsageError(fmt::format("--shaft: the case has no shaft \"{}\"", *options.shaft));
  write_file(*options.drag_map,
             report::drag_map_csv(study::drag_map(question, variant, options.shaft)));
}

study::SizingFindings window_of(const study::Case& question, const study::Findings& findings) {
  const auto asked = study::sizing_of(question, findings.trade.value());
  if (!asked)
    throw UsageError("--with-window: no variant has a grounding element with a force to size");
  return study::size_element(question, *asked);
}

Exit run(const StudyCommand& command, const StudyOptions& options) {
  const study::Case question = case_for_reader(options.reader, options.file, options);
  study::Findings findings = told_to(options.reader, question, [&] {
    return study::evaluate(question, command.sections,
                           options.quiet ? study::TripProgress{} : trip_progress());
  });
  findings.version = version;
  findings.command = command.name;
  if (options.with_window)
    findings.window =
        told_to(options.reader, question, [&] { return window_of(question, findings); });
  if (options.reader)
    findings =
        edition_for(*options.reader, options.file, question, std::move(findings), options.quiet);
  if (options.drag_map) write_drag_map(question, options);

  const std::string document = options.json || options.out ? report::json(findings) : "";
  const Screen at = screen();
  if (options.out) {
    write_file(*options.out / "result.json", document);
    write_file(*options.out / (command.name + ".txt"), report::terminal(findings, {100, false}));
  }
  std::vector<std::filesystem::path> reports;
  if (options.out && findings.trade)
    reports = write_reports({question, findings}, options.reports, *options.out);
  if (options.json) {
    std::cout << document;
  } else {
    std::cout << report::terminal(findings, {at.width, at.bold});
    if (options.out)
      std::cout << "\nResult document: " << (*options.out / "result.json").string() << '\n';
    for (const auto& file : reports) std::cout << "Report: " << file.string() << '\n';
  }
  if (options.drag_map && !options.quiet)
    std::cerr << "wrote " << options.drag_map->string() << '\n';
  if (options.json && options.out && !options.quiet)
    std::cerr << "wrote " << (*options.out / "result.json").string() << '\n';
  return options.strict && !all_met(findings) ? Exit::requirement_missed : Exit::done;
}

report::ValueRow row_of(const input::CheckedValue& value, const Reader& reader) {
  report::ValueRow row{value.key,
                       print_interval(value.interval),
                       value.unit,
                       std::string(to_word(value.basis)),
                       value.unknown ? value.source + " (unknown to the case)" : value.source,
                       std::string(to_word(value.share))};
  if (reader && is_sealed_for(level_of(reader), value.share)) {
    row.value = "sealed";
    row.source = "sealed";
  }
  return row;
}

Exit check(const StudyOptions& options) {
  const study::Case question = case_for_reader(options.reader, options.file, options);
  std::vector<report::ValueRow> rows;
  for (const input::CheckedValue& value : input::all_values(question))
    rows.push_back(row_of(value, options.reader));
  if (options.json) {
    std::vector<std::vector<std::string>> cells;
    cells.reserve(rows.size());
    for (const auto& row : rows)
      cells.push_back({row.name, row.value, row.unit, row.basis, row.source, row.share});
    std::cout << report::json_table("values", {"key", "value", "unit", "basis", "source", "share"},
                                    cells);
    return Exit::done;
  }
  const Screen at = screen();
  std::cout << report::checked_values(rows, {at.width, at.bold});
  if (!options.quiet) {
    for (const std::string& warning : question.warnings) std::cerr << "note: " << warning << '\n';
    std::cerr << fmt::format("{}: {} values, {} variants, no problem found; nothing computed\n",
                             options.file.string(), rows.size(), question.variants.size());
  }
  return Exit::done;
}

CLI::App* declare(CLI::App& cli, const std::string& name, const std::string& what,
                  const std::string& example, StudyOptions& options) {
  CLI::App* command = cli.add_subcommand(name, what);
  command->add_option("CASE", options.file, "The case file")->required();
  add_common(*command, options);
  command->footer("Example: " + example);
  return command;
}

}  // namespace

void declare_study_commands(CLI::App& cli, Exit& exit) {
  for (const StudyCommand& described : study_commands()) {
    auto options = std::make_shared<StudyOptions>();
    CLI::App* command = declare(cli, described.name, described.what, described.example, *options);
    CLI::Option* out = command->add_option(
        "--out", options->out,
        described.sections.trade
            ? "Folder for the result document and every report, or those that are asked for"
            : "Folder for the result document and the text");
    out->type_name("DIR");
    if (described.sections.trade) {
      add_report_flags(*command, *out, options->reports);
      command->add_flag("--with-window", options->with_window,
                        "Scan the force of the grounding element too: which forces keep every "
                        "limit, and what each costs");
    }
    command->add_flag("--strict", options->strict,
                      "Exit with 3 if a requirement or target of the case is not met");
    CLI::Option* reader = add_reader(*command, options->reader);
    if (described.name == "budget") {
      CLI::Option* map = command->add_option("--drag-map", options->drag_map,
                                             "File for the drag over speed and oil as CSV");
      map->type_name("FILE")->excludes(reader);
      command->add_option("--variant", options->variant, "Of the drag map; else the baseline")
          ->type_name("ID")
          ->needs(map);
      command->add_option("--shaft", options->shaft, "Of the drag map; else the fastest")
          ->type_name("ID")
          ->needs(map);
    }
    command->callback([&described, options, &exit] { exit = run(described, *options); });
  }
  auto options = std::make_shared<StudyOptions>();
  CLI::App* command =
      declare(cli, "check", "Read a case and print every value in SI with basis and source",
              "ohmdrag check cases/parcel-van/case.toml", *options);
  add_reader(*command, options->reader);
  command->callback([options, &exit] { exit = check(*options); });
}

}  // namespace ohmdrag::app

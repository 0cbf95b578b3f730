#include <fmt/format.h>

#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/edition.hpp"
#include "app/progress_line.hpp"
#include "app/result_file.hpp"
#include "app/version.hpp"
#include "ohmdrag/input/case_blend.hpp"
#include "ohmdrag/report/compare.hpp"
#include "ohmdrag/study/compare.hpp"
#include "ohmdrag/study/other_editions.hpp"

namespace ohmdrag::app {
namespace {

struct CompareOptions : Common {
  std::filesystem::path before, after;
  std::vector<std::string> sets_after;
  Reader reader;
};

study::Comparison edition(const CompareOptions& options, const input::CaseBlend& blend,
                          study::Comparison result) {
  const Share level = level_of(options.reader);
  result = study::comparison_for(level, blend.before(), blend.after(), std::move(result));
  result.before.sha256 = hash_for(level, options.before, blend.before(), result.before.sha256);
  result.after.sha256 = hash_for(level, options.after, blend.after(), result.after.sha256);
  const std::string document = report::comparison_json(result, version);
  note_edition(options.reader, blend.before(), document, options.quiet);
  note_edition(options.reader, blend.after(), document, options.quiet);
  return result;
}

study::Comparison compare_files(const CompareOptions& options) {
  std::vector<std::string> sets_after = options.sets;
  sets_after.insert(sets_after.end(), options.sets_after.begin(), options.sets_after.end());
  const auto pair = read_for(options.reader, options.before, [&] {
    return std::make_unique<input::CaseBlend>(
        options.before, input::LoadOptions{options.sets, options.data_folder}, options.after,
        input::LoadOptions{sets_after, options.data_folder});
  });
  const input::CaseBlend& blend = *pair;
  const auto between = [&](study::Side of, std::span<const std::size_t> changes) {
    return blend.between(of, changes);
  };
  ProgressLine line;
  const auto progress = [&](std::size_t done, std::size_t all) {
    if (options.quiet || !errors_on_terminal() || !line.is_due()) return;
    line.show(fmt::format("{} of {} evaluated, {}", done, all, line.left_in_words(done, all)));
  };
  study::Comparison result = told_to(options.reader, blend.before(), [&] {
    return told_to(options.reader, blend.after(), [&] {
      return study::compare_cases(blend.before(), blend.after(), blend.changes(), between,
                                  progress);
    });
  });
  line.wipe();
  result.before.version = result.after.version = version;
  return options.reader ? edition(options, blend, std::move(result)) : result;
}

study::Comparison compare_results(const CompareOptions& options) {
  if (!options.sets.empty() || !options.sets_after.empty())
    throw UsageError("--set: results are computed already; compare the cases");
  if (options.reader)
    throw UsageError(
        "--for: a result does not say who may see what; make both with trade --for, or compare the "
        "cases");
  const ResultFile before = read_result(options.before), after = read_result(options.after);
  return study::compare_results(before.side, before.headlines, after.side, after.headlines,
                                changed_inputs(before, after));
}

Exit run(const CompareOptions& options) {
  const bool results = is_result_file(options.before);
  if (results != is_result_file(options.after))
    throw UsageError("compare takes two cases or two results, not one of each");
  const study::Comparison comparison = results ? compare_results(options) : compare_files(options);
  const Screen at = screen();
  std::cout << (options.json ? report::comparison_json(comparison, version)
                             : report::comparison(comparison, {at.width, at.bold}));
  return Exit::done;
}

}  // namespace

void declare_compare_command(CLI::App& cli, Exit& exit) {
  auto o = std::make_shared<CompareOptions>();
  CLI::App* command = cli.add_subcommand(
      "compare", "Two cases or two results: what changed, and which change moved what by how much");
  command->add_option("BEFORE", o->before, "A case file, or a result of trade --json")->required();
  command->add_option("AFTER", o->after, "The same of the other side")->required();
  command
      ->add_option("--set-after", o->sets_after,
                   "Another value for a key of the second case alone; --set holds for both")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
  add_reader(*command, o->reader);
  add_common(*command, *o);
  command->footer(
      "Example: ohmdrag compare cases/buys-nothing/case.toml cases/buys-nothing/case.toml "
      "--set-after \"shaft.rotor.diameter=46 mm\"");
  command->callback([o, &exit] { exit = run(*o); });
}

}  // namespace ohmdrag::app

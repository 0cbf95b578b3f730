#include <fmt/format.h>

#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/edition.hpp"
#include "app/version.hpp"
#include "ohmdrag/report/explain.hpp"
#include "ohmdrag/study/explain.hpp"

namespace ohmdrag::app {
namespace {

struct ExplainOptions : Common {
  std::filesystem::path file;
  std::string figure;
  Reader reader;
};

Exit run(const ExplainOptions& options) {
  const study::Case question = case_for_reader(options.reader, options.file, options);
  const Screen at = screen();
  if (options.figure.empty()) {
    const auto figures =
        told_to(options.reader, question, [&] { return study::explainable(question); });
    std::cout << (options.json ? report::explainable_json(figures, version)
                               : report::explainable(figures, {at.width, at.bold}));
    return Exit::done;
  }
  study::Explanation explanation;
  try {
    explanation = told_to(options.reader, question, [&] {
      return study::Explainer(question, level_of(options.reader)).explain(options.figure);
    });
  } catch (const std::invalid_argument& error) {
    throw UsageError(fmt::format("{}: {}", options.file.string(), error.what()));
  }
  std::cout << (options.json ? report::explanation_json(explanation, version)
                             : report::explanation(explanation, {at.width, at.bold}));
  return Exit::done;
}

}  // namespace

void declare_explain_command(CLI::App& cli, Exit& exit) {
  auto o = std::make_shared<ExplainOptions>();
  CLI::App* command = cli.add_subcommand(
      "explain", "The working of one figure: every formula with its numbers, to be retyped");
  command->add_option("CASE", o->file, "The case file")->required();
  command->add_option("FIGURE", o->figure,
                      "FIGURE:VARIANT or FIGURE:VARIANT@POINT; without one all are listed");
  add_reader(*command, o->reader);
  add_common(*command, *o);
  command->footer("Example: ohmdrag explain cases/parcel-van/case.toml net_W:dense-ring@cruise");
  command->callback([o, &exit] { exit = run(*o); });
}

}  // namespace ohmdrag::app

#include <fmt/format.h>

#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/progress_line.hpp"
#include "app/version.hpp"
#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/report/ask.hpp"
#include "ohmdrag/study/ask.hpp"

namespace ohmdrag::app {
namespace {

struct AskCommandOptions : Common {
  std::filesystem::path file;
  study::AskOptions how;
};

Exit run(const AskCommandOptions& options) {
  const study::Case question = input::load_case(options.file, {options.sets, options.data_folder});
  ProgressLine line;
  const auto progress = [&](std::size_t done, std::size_t all) {
    if (options.quiet || !errors_on_terminal() || !line.is_due()) return;
    line.show(fmt::format("{} of at most {} evaluated", done, all));
  };
  const study::AskFindings findings = study::ask(question, options.how, progress);
  line.wipe();
  const Screen at = screen();
  std::cout << (options.json ? report::questions_json(findings, version)
                             : report::questions(findings, {at.width, at.bold}));
  return Exit::done;
}

}  // namespace

void declare_ask_command(CLI::App& cli, Exit& exit) {
  auto o = std::make_shared<AskCommandOptions>();
  CLI::App* command = cli.add_subcommand(
      "ask", "Which unknown or assumed facts could turn the answer, as questions to send");
  command->add_option("CASE", o->file, "The case file")->required();
  command
      ->add_option("--closely", o->how.closely,
                   "How many of the numbers that move most are evaluated as known")
      ->type_name("N")
      ->capture_default_str();
  add_common(*command, *o);
  command->footer("Example: ohmdrag ask cases/buys-nothing/case.toml");
  command->callback([o, &exit] { exit = run(*o); });
}

}  // namespace ohmdrag::app

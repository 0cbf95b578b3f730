#include <fmt/format.h>

#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/edition.hpp"
#include "app/progress_line.hpp"
#include "app/version.hpp"
#include "ohmdrag/report/ask.hpp"
#include "ohmdrag/study/ask.hpp"
#include "ohmdrag/study/other_editions.hpp"

namespace ohmdrag::app {
namespace {

struct AskCommandOptions : Common {
  std::filesystem::path file;
  study::AskOptions how;
  Reader reader;
};

Exit run(const AskCommandOptions& options) {
  const study::Case question = case_for_reader(options.reader, options.file, options);
  ProgressLine line;
  const auto progress = [&](std::size_t done, std::size_t all) {
    if (options.quiet || !errors_on_terminal() || !line.is_due()) return;
    line.show(fmt::format("{} of at most {} evaluated", done, all));
  };
  const study::AskFindings findings = study::questions_for(
      level_of(options.reader), question, told_to(options.reader, question, [&] {
        return study::ask(question, options.how, progress);
      }));
  line.wipe();
  const std::string document = report::questions_json(findings, version);
  const Screen at = screen();
  std::cout << (options.json ? document : report::questions(findings, {at.width, at.bold}));
  note_edition(options.reader, question, document, options.quiet);
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
  add_reader(*command, o->reader);
  add_common(*command, *o);
  command->footer("Example: ohmdrag ask cases/buys-nothing/case.toml");
  command->callback([o, &exit] { exit = run(*o); });
}

}  // namespace ohmdrag::app

#include <fmt/format.h>

#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/edition.hpp"
#include "app/files.hpp"
#include "app/version.hpp"
#include "ohmdrag/input/load_run.hpp"
#include "ohmdrag/report/run_fit.hpp"

namespace ohmdrag::app {
namespace {

struct FitOptions : Common {
  std::filesystem::path file;
  std::optional<std::filesystem::path> out;
  Reader reader;
};

/// What is fitted is the run said in another way: there is no part of it to show.
void refuse_sealed(const FitOptions& options) {
  const std::vector<std::string> sealed = input::sealed_in_run(
      options.file, {options.sets, options.data_folder}, level_of(options.reader));
  if (!sealed.empty())
    throw UsageError(fmt::format(
        "{}: {} values are sealed for {} readers, {} among them, and all that is fitted follows "
        "from them; for the own house leave --for out",
        options.file.string(), sealed.size(), *options.reader, sealed.front()));
}

rig::RunFindings findings_of(const FitOptions& options) {
  const input::RunFit fit = read_for(options.reader, options.file, [&] {
    if (options.reader) refuse_sealed(options);
    return input::load_run(options.file, {options.sets, options.data_folder});
  });
  try {
    return fit();
  } catch (const std::invalid_argument& error) {
    throw UsageError(fmt::format("{}: {}", options.file.string(), error.what()));
  }
}

Exit run(const FitOptions& options) {
  const rig::RunFindings findings = findings_of(options);
  if (options.out) {
    const std::string entry = report::run_fit_toml(findings, version);
    if (entry.empty())
      throw UsageError(fmt::format("{}: {}, so there is nothing for {}", options.file.string(),
                                   findings.no_entry, options.out->string()));
    write_file(*options.out, entry);
  }
  const Screen at = screen();
  std::cout << (options.json ? report::run_fit_json(findings)
                             : report::run_fit(findings, {at.width, at.bold}));
  if (options.out && !options.quiet) std::cerr << "wrote " << options.out->string() << '\n';
  return Exit::done;
}

}  // namespace

void declare_fit_command(CLI::App& cli, Exit& exit) {
  auto o = std::make_shared<FitOptions>();
  CLI::App* command = cli.add_subcommand("fit", "A measured run to parameters of a case");
  command->add_option("DATA", o->file, "The TOML file of the run, which names its log")->required();
  command->add_option("--out", o->out, "File for the parameters as TOML that a case can include")
      ->type_name("FILE");
  add_reader(*command, o->reader);
  add_common(*command, *o);
  command->footer("Example: ohmdrag fit cases/rig/warm-up.toml --out out/fitted-sump.toml");
  command->callback([o, &exit] { exit = run(*o); });
}

}  // namespace ohmdrag::app

#include "app/commands.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>

#include "app/version.hpp"

namespace ohmdrag::app {

void add_common(CLI::App& command, Common& common) {
  command.add_flag("--json", common.json, "One JSON document on standard output, nothing else");
  command.add_flag("--quiet", common.quiet, "No notes on standard error");
  command
      .add_option("--set", common.sets,
                  "Another value for a key of the case: shaft.rotor.diameter=\"46 mm\"")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
  command
      .add_option("--data", common.data_folder,
                  "Folder whose TOML files override the built-in entries one by one")
      ->type_name("DIR");
}

Screen screen() {
  Screen result;
  if (::isatty(STDOUT_FILENO) == 0) return result;
  winsize size{};
  if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
    result.width = std::clamp(static_cast<int>(size.ws_col), 60, 160);
  const char* no_colour = std::getenv("NO_COLOR");
  result.bold = no_colour == nullptr || *no_colour == '\0';
  return result;
}

void declare_commands(CLI::App& cli, Exit& exit) {
  cli.set_version_flag("--version", version);
  // Not exactly one: a misspelt command shall be named, not taken for none.
  cli.require_subcommand(0, 1);
  cli.callback([&cli] {
    if (cli.get_subcommands().empty()) throw CLI::RequiredError("A command");
  });
  cli.set_help_all_flag("--help-all", "Help of every command");
  cli.footer(
      "Begin with `ohmdrag new vehicle > case.toml`, then `ohmdrag trade case.toml`.\n"
      "High voltage, rotating shafts and hot parts can kill: local codes and qualified persons "
      "come first.");
  declare_study_commands(cli, exit);
  declare_contact_command(cli, exit);
  declare_fit_command(cli, exit);
  declare_size_command(cli, exit);
  declare_compare_command(cli, exit);
  declare_ask_command(cli, exit);
  declare_explain_command(cli, exit);
  declare_sweep_command(cli, exit);
  declare_lists(cli, exit);
}

}  // namespace ohmdrag::app

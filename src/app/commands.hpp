#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace ohmdrag::app {

enum class Exit { done = 0, failed = 1, bad_input = 2, requirement_missed = 3 };

/// The usage is wrong in a way the option parser cannot see.
struct UsageError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Options that every command takes.
struct Common {
  bool json = false;
  bool quiet = false;
  std::vector<std::string> sets;
  std::optional<std::filesystem::path> data_folder;
};

/// Adds every command to the program; running one sets `exit`.
void declare_commands(CLI::App& cli, Exit& exit);

// One file a group of commands.
void declare_study_commands(CLI::App& cli, Exit& exit);  // trade budget energy ground life check
void declare_contact_command(CLI::App& cli, Exit& exit);
void declare_fit_command(CLI::App& cli, Exit& exit);
void declare_size_command(CLI::App& cli, Exit& exit);
void declare_compare_command(CLI::App& cli, Exit& exit);
void declare_ask_command(CLI::App& cli, Exit& exit);
void declare_explain_command(CLI::App& cli, Exit& exit);
void declare_sweep_command(CLI::App& cli, Exit& exit);
void declare_lists(CLI::App& cli, Exit& exit);  // new list

/// --json --set --quiet --data on a command.
void add_common(CLI::App& command, Common& common);
/// Terminal width and boldness: only when standard output is a terminal, and NO_COLOR is honoured.
struct Screen {
  int width = 100;
  bool bold = false;
};
Screen screen();

}  // namespace ohmdrag::app

#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <string>
#include <vector>

#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::app {

/// What every report is made of.
struct ReportSource {
  const study::Case& question;
  const study::Findings& findings;
};

/// A format in which a trade study can be written.
struct ReportFormat {
  std::string flag;            ///< "--html"
  std::string what;            ///< its help
  bool only_if_asked = false;  ///< needs another program or much time: not one of "every report"
  /// Writes into the folder and returns what it wrote.
  /// \throws WriteError
  std::vector<std::filesystem::path> (*write)(const ReportSource&,
                                              const std::filesystem::path& folder) = nullptr;
};

/// All formats, in the order in which they are told. A format more is a row here.
const std::vector<ReportFormat>& report_formats();

/// Which formats were asked for: none of them means every one that is not only_if_asked.
struct ReportChoice {
  std::vector<bool> asked = std::vector<bool>(report_formats().size(), false);
};

/// The flags of all formats on a command; they need `out`.
void add_report_flags(CLI::App& command, CLI::Option& out, ReportChoice& choice);

/// Writes the chosen formats side by side. One that fails does not keep the others from being
/// written; of several failures that of the last format is thrown, at the end.
/// \throws WriteError
std::vector<std::filesystem::path> write_reports(const ReportSource& source,
                                                 const ReportChoice& choice,
                                                 const std::filesystem::path& folder);

}  // namespace ohmdrag::app

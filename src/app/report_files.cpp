#include "app/report_files.hpp"

#include <algorithm>
#include <exception>

#include "app/files.hpp"
#include "ohmdrag/report/csv.hpp"
#include "ohmdrag/report/markdown.hpp"
#include "ohmdrag/report/xlsx.hpp"

namespace ohmdrag::app {
namespace {

using Files = std::vector<std::filesystem::path>;

Files write_markdown(const ReportSource& source, const std::filesystem::path& folder) {
  write_file(folder / "report.md", report::markdown(source.findings));
  return {folder / "report.md"};
}

Files write_csv(const ReportSource& source, const std::filesystem::path& folder) {
  for (const report::CsvFile& file : report::csv(source.findings))
    write_file(folder / "csv" / file.name, file.content);
  return {folder / "csv"};
}

Files write_xlsx(const ReportSource& source, const std::filesystem::path& folder) {
  write_file(folder / "report.xlsx", report::xlsx(source.findings));
  return {folder / "report.xlsx"};
}

}  // namespace

const std::vector<ReportFormat>& report_formats() {
  static const std::vector<ReportFormat> formats{
      {.flag = "--markdown", .what = "Write report.md", .write = write_markdown},
      {.flag = "--csv", .what = "Write csv/, one table a file", .write = write_csv},
      {.flag = "--xlsx", .what = "Write report.xlsx", .write = write_xlsx}};
  return formats;
}

void add_report_flags(CLI::App& command, CLI::Option& out, ReportChoice& choice) {
  const auto& formats = report_formats();
  for (std::size_t i = 0; i < formats.size(); ++i)
    command
        .add_flag_function(
            formats[i].flag, [&choice, i](std::int64_t) { choice.asked[i] = true; },
            formats[i].what)
        ->needs(&out);
}

std::vector<std::filesystem::path> write_reports(const ReportSource& source,
                                                 const ReportChoice& choice,
                                                 const std::filesystem::path& folder) {
  const auto& formats = report_formats();
  const bool any_asked = std::ranges::find(choice.asked, true) != choice.asked.end();
  std::vector<std::filesystem::path> written;
  std::exception_ptr first_failure;
  for (std::size_t i = 0; i < formats.size(); ++i) {
    if (any_asked ? !choice.asked[i] : formats[i].only_if_asked) continue;
    try {
      const auto files = formats[i].write(source, folder);
      written.insert(written.end(), files.begin(), files.end());
    } catch (const WriteError&) {
      if (!first_failure) first_failure = std::current_exception();
    }
  }
  if (first_failure) std::rethrow_exception(first_failure);
  return written;
}

}  // namespace ohmdrag::app

#include "app/report_files.hpp"

#include <algorithm>
#include <sstream>

#include "app/files.hpp"
#include "app/pdf.hpp"
#include "ohmdrag/input/case_edition.hpp"
#include "ohmdrag/input/case_files.hpp"
#include "ohmdrag/input/embedded_data.hpp"
#include "ohmdrag/quantity/share.hpp"
#include "ohmdrag/report/csv.hpp"
#include "ohmdrag/report/explain.hpp"
#include "ohmdrag/report/html.hpp"
#include "ohmdrag/report/markdown.hpp"
#include "ohmdrag/report/xlsx.hpp"
#include "ohmdrag/study/explain.hpp"
#include "ohmdrag/study/side_by_side.hpp"

namespace ohmdrag::app {
namespace {

/// So that the page can be sent by e-mail and opens at once: it is to stay below two megabytes.
constexpr std::size_t most_bytes_of_page = 1'980'000;
/// Of the workings that are folded into it.
constexpr std::size_t most_bytes_of_workings = 300'000;

/// The workings that are asked for first, as far as there is room.
std::vector<report::Working> workings_of(const ReportSource& source) {
  const std::vector<std::string> wanted = report::workings_wanted(source.findings);
  if (wanted.empty()) return {};
  const study::Explainer explainer(
      source.question, share_from_word(source.findings.reader).value_or(Share::internal));
  const std::vector<study::ExplainableFigure> known = explainer.figures();
  std::vector<report::Working> workings;
  std::size_t bytes = 0;
  for (const std::string& figure : wanted) {
    if (std::ranges::find(known, figure, &study::ExplainableFigure::name) == known.end()) continue;
    const study::Explanation found = explainer.explain(figure);
    report::Working working{figure, found.what, {}, found.notes};
    std::istringstream text(report::explain_text(found.lines));
    for (std::string line; std::getline(text, line);) working.lines.push_back(line);
    for (const std::string& line : working.lines) bytes += line.size();
    if (bytes > most_bytes_of_workings) break;
    workings.push_back(std::move(working));
  }
  return workings;
}

/// For the files of the case; as text of a page they grow by a third at most (base64).
std::size_t room_beside(const std::string& page) {
  return page.size() < most_bytes_of_page ? (most_bytes_of_page - page.size()) / 4 * 3 : 0;
}

std::string html_of(const ReportSource& source) {
  report::HtmlParts parts;
  parts.data = [](std::string_view path) {
    const auto content = input::embedded(path);
    if (!content) throw std::invalid_argument("the program lacks " + std::string(path));
    return *content;
  };
  parts.workings = workings_of(source);
  const auto carry = [&](auto& files) {
    for (auto& file : files)
      parts.files.push_back(
          {std::move(file.name), std::move(file.content), std::move(file.sha256)});
  };
  if (const auto reader = share_from_word(source.findings.reader)) {
    auto edition = input::case_for(*reader, source.question.provenance.file, source.question);
    carry(edition.files);
  } else {
    auto files = input::case_files(source.question.provenance,
                                   room_beside(report::html(source.findings, parts)));
    carry(files);
  }
  return report::html(source.findings, parts);
}

std::vector<std::filesystem::path> write_html(const ReportSource& source,
                                              const std::filesystem::path& folder) {
  write_file(folder / "report.html", html_of(source));
  return {folder / "report.html"};
}

std::vector<std::filesystem::path> write_pdf(const ReportSource& source,
                                             const std::filesystem::path& folder) {
  print_pdf(html_of(source), folder / "report.pdf");
  return {folder / "report.pdf"};
}

std::vector<std::filesystem::path> write_markdown(const ReportSource& source,
                                                  const std::filesystem::path& folder) {
  write_file(folder / "report.md", report::markdown(source.findings));
  return {folder / "report.md"};
}

std::vector<std::filesystem::path> write_csv(const ReportSource& source,
                                             const std::filesystem::path& folder) {
  for (const report::CsvFile& file : report::csv(source.findings))
    write_file(folder / "csv" / file.name, file.content);
  return {folder / "csv"};
}

std::vector<std::filesystem::path> write_xlsx(const ReportSource& source,
                                              const std::filesystem::path& folder) {
  write_file(folder / "report.xlsx", report::xlsx(source.findings));
  return {folder / "report.xlsx"};
}

}  // namespace

const std::vector<ReportFormat>& report_formats() {
  static const std::vector<ReportFormat> formats{
      {.flag = "--html", .what = "The report as one HTML file (report.html)", .write = write_html},
      {.flag = "--pdf",
       .what = "The report as PDF (report.pdf), printed by an installed Chromium",
       .only_if_asked = true,
       .write = write_pdf},
      {.flag = "--markdown", .what = "The report as Markdown (report.md)", .write = write_markdown},
      {.flag = "--csv", .what = "Its tables as CSV, one a file (csv/)", .write = write_csv},
      {.flag = "--xlsx", .what = "Its tables as a workbook (report.xlsx)", .write = write_xlsx}};
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
  std::vector<std::vector<std::filesystem::path>> by_format(formats.size());
  study::side_by_side(formats.size(), [&](std::size_t i) {
    const std::size_t format = formats.size() - 1 - i;  // the workbook takes longest: it goes ahead
    if (any_asked ? choice.asked[format] : !formats[format].only_if_asked)
      by_format[format] = formats[format].write(source, folder);
  });
  std::vector<std::filesystem::path> written;
  for (const auto& files : by_format) written.insert(written.end(), files.begin(), files.end());
  return written;
}

}  // namespace ohmdrag::app

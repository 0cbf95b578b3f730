#include "ohmdrag/report/csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/csv_cell.hpp"
#include "report/data_tables.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

std::string number_cell(double value) {
  return std::isfinite(value) ? fmt::format("{}", value) : std::string();
}

std::string cell_of(const Value& value) {
  if (const auto* flag = std::get_if<bool>(&value)) return *flag ? "true" : "false";
  if (const auto* figure = std::get_if<double>(&value)) return number_cell(*figure);
  if (const auto* text = std::get_if<std::string>(&value)) return csv_cell_for_spreadsheets(*text);
  return {};
}

std::string interval_cells(const Value& value) {
  if (const auto* interval = std::get_if<Interval>(&value))
    return number_cell(interval->low) + ',' + number_cell(interval->mid) + ',' +
           number_cell(interval->high);
  return ',' + cell_of(value) + ',';
}

std::string content_of(const DataTable& table) {
  std::vector<bool> has_ends;
  std::string out;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    has_ends.push_back(std::ranges::any_of(
        table.rows, [i](const auto& row) { return std::holds_alternative<Interval>(row[i]); }));
    const std::string& name = table.columns[i];
    if (i > 0) out += ',';
    if (has_ends[i])
      out +=
          csv_cell(name + "_low") + ',' + csv_cell(name + "_mid") + ',' + csv_cell(name + "_high");
    else
      out += csv_cell(name);
  }
  out += '\n';
  for (const auto& row : table.rows) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (i > 0) out += ',';
      out += has_ends[i] ? interval_cells(row[i]) : cell_of(row[i]);
    }
    out += '\n';
  }
  return out;
}

}  // namespace

std::string csv_cell(const std::string& raw) {
  std::string text = harmless(raw);
  if (text.find_first_of(",\"") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

std::string csv_cell_for_spreadsheets(const std::string& text) {
  constexpr std::string_view begins_a_formula = "=+-@\t\r\n";
  const bool computes = !text.empty() && begins_a_formula.find(text.front()) != std::string::npos;
  return csv_cell(computes && !is_number(text) ? '\'' + text : text);
}

std::vector<CsvFile> csv(const study::Findings& findings) {
  std::vector<CsvFile> out;
  for (const DataTable& table : data_tables(document_of(findings)))
    out.push_back({table.id + ".csv", content_of(table)});
  return out;
}

}  // namespace ohmdrag::report

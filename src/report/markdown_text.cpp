#include "report/markdown_text.hpp"

#include <algorithm>

#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

constexpr std::size_t most_columns = 9;

std::string joined_cell(const Cell& cell) {
  return markdown_text(cell.tail.empty() ? cell.text : cell.text + ' ' + cell.tail);
}

std::string row_of(const std::vector<std::string>& cells) {
  std::string out = "|";
  for (const std::string& cell : cells) out += ' ' + cell + " |";
  return out + '\n';
}

}  // namespace

std::string markdown_text(std::string_view raw) {
  const std::string text = harmless(raw);
  constexpr std::string_view marks = "\\`*_[]<>#|~&!$";
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::string_view rest = std::string_view(text).substr(i);
    const bool address = rest.starts_with("://") || (rest.starts_with('.') && out.ends_with("www"));
    // A backslash does not keep GitHub's readers from making a link of an address; a comment does.
    if (text[i] == '@') out += "<!-- -->";
    if (address || marks.find(text[i]) != std::string_view::npos) out += '\\';
    out += text[i];
  }
  return out;
}

std::string markdown_line(std::string_view raw) {
  const std::size_t first = std::min(raw.find_first_not_of(' '), raw.size());
  std::string out = markdown_text(raw.substr(first));
  const std::size_t digits = std::min(out.find_first_not_of("0123456789"), out.size());
  const bool list = digits > 0 && digits < out.size() &&
                    (out[digits] == '.' || out[digits] == ')') &&
                    (digits + 1 == out.size() || out[digits + 1] == ' ');
  if (list) out.insert(digits, 1, '\\');
  if (out.starts_with('+') || out.starts_with('-') || out.starts_with('=')) out.insert(0, 1, '\\');
  return out;
}

std::string markdown_table(const Table& raw) {
  Table table = without_empty_columns(raw);
  if (table.columns.empty()) return {};
  const bool wide = table.turn == Turn::if_wide && table.columns.size() > most_columns;
  if ((wide || table.turn == Turn::always) && !table.rows.empty()) table = turned(table);
  std::vector<std::string> heads, rules;
  for (const Column& column : table.columns) {
    const bool has_unit = !column.unit.empty() && column.unit != "1";
    heads.push_back(markdown_text(has_unit ? column.head + ", " + column.unit : column.head));
    rules.emplace_back(column.align == Align::right ? "---:" : "---");
  }
  std::string out = row_of(heads) + row_of(rules);
  for (const auto& row : table.rows) {
    std::vector<std::string> cells;
    for (const Cell& cell : row) cells.push_back(joined_cell(cell));
    out += row_of(cells);
  }
  return out;
}

}  // namespace ohmdrag::report

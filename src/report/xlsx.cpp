#include "ohmdrag/report/xlsx.hpp"

#include <algorithm>

#include "report/heads.hpp"
#include "report/sections.hpp"
#include "report/workbook.hpp"

namespace ohmdrag::report {
namespace {

constexpr double width_of_figures = 11.0;
constexpr double narrowest_words = 10.0;
constexpr double widest_words = 60.0;
constexpr double width_of_answer = 110.0;
constexpr std::size_t most_names = 3;  // columns that stay in view

std::string sheet_name(const std::string& id) {
  std::string name = id;
  std::ranges::replace(name, '_', ' ');
  return name;
}

/// What the page says before its first table.
void add_answer(Workbook& book, const study::Findings& findings) {
  lxw_worksheet* sheet = book.sheet("answer");
  worksheet_set_column(sheet, 0, 0, width_of_answer, nullptr);
  worksheet_set_portrait(sheet);
  const Page page = whole_page(findings, {});
  std::size_t row = 0;
  for (const Block& block : page.blocks()) {
    if (block.kind == Block::Kind::table) break;
    const bool head = block.kind == Block::Kind::title || block.kind == Block::Kind::heading;
    if (head && row > 0) ++row;
    if (!block.text.empty())
      book.text(sheet, row++, 0, block.lead + block.text, head ? book.title() : book.wrapped());
  }
}

bool holds_words(const DataTable& table, std::size_t column) {
  return std::ranges::any_of(table.rows, [&](const auto& row) {
    return std::holds_alternative<std::string>(row[column]);
  });
}

bool holds_intervals(const DataTable& table, std::size_t column) {
  return std::ranges::any_of(
      table.rows, [&](const auto& row) { return std::holds_alternative<Interval>(row[column]); });
}

/// As wide as most of its words.
double words_width(const DataTable& table, std::size_t column) {
  std::size_t widest = table.columns[column].size();
  for (const auto& row : table.rows)
    if (const auto* text = std::get_if<std::string>(&row[column]))
      widest = std::max(widest, text->size());
  return std::clamp(static_cast<double>(widest) + 2.0, narrowest_words, widest_words);
}

/// The cells of one value, one or three.
void add_value(Workbook& book, lxw_worksheet* sheet, std::size_t row, std::size_t column,
               const Value& value, bool with_ends) {
  const std::size_t middle = with_ends ? column + 1 : column;
  if (const auto* interval = std::get_if<Interval>(&value)) {
    const std::string format = number_format(*interval);
    book.number(sheet, row, column, interval->low, format);
    book.number(sheet, row, column + 1, interval->mid, format);
    book.number(sheet, row, column + 2, interval->high, format);
  } else if (const auto* figure = std::get_if<double>(&value)) {
    book.number(sheet, row, middle, *figure, number_format({*figure, *figure, *figure}));
  } else if (const auto* flag = std::get_if<bool>(&value)) {
    book.text(sheet, row, middle, *flag ? "yes" : "no", book.wrapped());
  } else if (const auto* text = std::get_if<std::string>(&value)) {
    book.text(sheet, row, middle, *text, book.wrapped());
  }
}

void add_table(Workbook& book, const DataTable& table) {
  lxw_worksheet* sheet = book.sheet(sheet_name(table.id));
  worksheet_set_landscape(sheet);
  worksheet_repeat_rows(sheet, 0, 0);
  std::size_t column = 0;
  std::size_t names = 0;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const Head head = head_of(table.columns[i]);
    const std::string unit = head.unit.empty() ? "" : ", " + head.unit;
    const bool with_ends = holds_intervals(table, i);
    const bool words = holds_words(table, i);
    if (words && names == i && names < most_names) ++names;
    const auto first = static_cast<lxw_col_t>(column);
    const auto last = static_cast<lxw_col_t>(with_ends ? column + 2 : column);
    worksheet_set_column(sheet, first, last, words ? words_width(table, i) : width_of_figures,
                         nullptr);
    if (with_ends) book.text(sheet, 0, column++, head.words + ", low" + unit, book.head());
    book.text(sheet, 0, column++, head.words + unit, book.head());
    if (with_ends) book.text(sheet, 0, column++, head.words + ", high" + unit, book.head());
    std::size_t row = 1;
    for (const auto& cells : table.rows) add_value(book, sheet, row++, first, cells[i], with_ends);
  }
  worksheet_freeze_panes(sheet, 1, static_cast<lxw_col_t>(names));
  worksheet_autofilter(sheet, 0, 0, static_cast<lxw_row_t>(table.rows.size()),
                       static_cast<lxw_col_t>(column - 1));
}

}  // namespace

std::string xlsx(const study::Findings& findings) {
  const std::vector<DataTable> tables = data_tables(document_of(findings));
  Workbook book;
  add_answer(book, findings);
  add_charts(book, tables);
  for (const DataTable& table : tables) add_table(book, table);
  return book.bytes();
}

}  // namespace ohmdrag::report

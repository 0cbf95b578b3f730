#include "ohmdrag/report/run_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "report/page.hpp"

namespace ohmdrag::report {
namespace {

double in(const rig::ShownIn& shown, double si) { return si / shown.scale - shown.offset; }

Interval in(const rig::ShownIn& shown, const Interval& si) {
  return {in(shown, si.low), in(shown, si.mid), in(shown, si.high)};
}

std::vector<Cell> row_of(const rig::RunFigure& row) {
  if (!row.told) return {words(row.name), words("not told"), {}, words(row.shown.unit)};
  const auto& [value, error, ends] = *row.told;
  return {words(row.name),
          ends ? figure(in(row.shown, Interval{ends->first, value, ends->second}))
               : figure(in(row.shown, value)),
          error ? figure(*error / row.shown.scale) : Cell{}, words(row.shown.unit)};
}

Table table_of(const std::vector<rig::RunFigure>& figures) {
  Table table;
  table.columns = {{"parameter", "", Align::left, true},
                   {"value (95 %)"},
                   {"standard error"},
                   {"unit", "", Align::left}};
  for (const rig::RunFigure& row : figures)
    if (!row.only_in_document) table.rows.push_back(row_of(row));
  return table;
}

/// A cell of a table of the run, in the unit of its column.
struct CellOf {
  const rig::ShownIn& shown;

  Cell operator()(std::monostate) const { return words(std::string(nothing)); }
  Cell operator()(const std::string& text) const { return words(text); }
  Cell operator()(double si) const { return figure(in(shown, si)); }
  Cell operator()(const Interval& si) const { return figure(in(shown, si)); }
};

bool holds_words(const rig::RunTable& table, std::size_t column) {
  return std::ranges::any_of(table.rows, [&](const auto& row) {
    return std::holds_alternative<std::string>(row[column]);
  });
}

Table table_of(const rig::RunTable& run) {
  Table table;
  table.turn = Turn::if_wide;
  for (std::size_t c = 0; c < run.columns.size(); ++c) {
    const bool text = holds_words(run, c);
    table.columns.push_back(
        {run.columns[c].name, run.columns[c].shown.unit, text ? Align::left : Align::right, text});
  }
  for (const auto& row : run.rows) {
    std::vector<Cell> cells;
    for (std::size_t c = 0; c < row.size(); ++c)
      cells.push_back(std::visit(CellOf{run.columns[c].shown}, row[c]));
    table.rows.push_back(std::move(cells));
  }
  return table;
}

void say_all(Page& page, const std::vector<std::string>& texts, std::string_view lead) {
  for (const std::string& text : texts) page.say(text, lead);
}

void say_labelled(Page& page, const std::vector<std::pair<std::string, std::string>>& texts) {
  for (const auto& [label, text] : texts) page.say(text, label + ": ");
}

}  // namespace

std::string run_fit(const rig::RunFindings& findings, const TerminalOptions& options) {
  Page page(options);
  page.title(findings.title);
  page.say(fmt::format("{}, {}{}", findings.specimen, findings.date,
                       findings.oil.empty() ? "" : ", " + findings.oil),
           "Specimen: ");
  for (const rig::RunFile& file : findings.files)
    page.say(fmt::format("{}, {} rows", file.name, file.rows), "File: ");
  say_labelled(page, findings.conditions);
  page.heading(findings.model);
  say_all(page, findings.warnings, "Warning: ");
  if (!findings.figures.empty()) page.table(table_of(findings.figures));
  say_labelled(page, findings.quality);
  for (const rig::RunTable& table : findings.tables) {
    if (table.only_in_document || table.rows.empty()) continue;
    page.heading(table.title);
    page.table(table_of(table));
  }
  if (!findings.notes.empty() || !findings.cautions.empty() || !findings.no_entry.empty())
    page.space();
  say_all(page, findings.notes, "Note: ");
  if (findings.entries.empty() && !findings.no_entry.empty())
    page.say(fmt::format("nothing to include: {}.", findings.no_entry), "For a case: ");
  say_all(page, findings.cautions, "Caution: ");
  return page.text();
}

}  // namespace ohmdrag::report

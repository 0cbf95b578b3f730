#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

constexpr std::size_t rows_of_register = 12;  // one screen; the JSON document has all

std::string share_in_words(double share, const std::string& figure_name) {
  return print_number(100.0 * share, 2) + " % of the variance of " + figure_name +
         " rests on numbers that are assumed, unverified or a single claim.";
}

std::vector<std::string> requirements_of(const study::Findings& findings) {
  std::vector<std::string> out;
  for (const study::VariantFindings& variant : findings.variants)
    for (const study::RequirementRow& row : variant.requirements)
      if (std::find(out.begin(), out.end(), row.id) == out.end()) out.push_back(row.id);
  return out;
}

std::vector<Cell> requirement_cells(const std::string& variant, const study::RequirementRow& row,
                                    Footnotes& notes) {
  const Cell none = words(std::string(nothing));
  if (row.not_applicable)
    return {words(variant), none, none, none, words("no " + notes.mark(*row.not_applicable)),
            words(row.at)};
  return {words(variant),
          figure(row.value),
          figure(row.margin),
          figure(100.0 * row.probability),
          words(row.met ? "yes" : "no"),
          words(row.at)};
}

}  // namespace

void print_requirements(const study::Findings& findings, Page& page) {
  const std::vector<std::string> ids = requirements_of(findings);
  if (ids.empty()) return;
  page.heading("Requirements");
  for (const std::string& id : ids) {
    Footnotes notes;
    Table table{.columns = {{"variant", "", Align::left},
                            {"value"},
                            {"margin"},
                            {"parts within", "%"},
                            {"met", "", Align::left},
                            {"at", "", Align::left, true}},
                .rows = {}};
    const study::RequirementRow* asked_for = nullptr;
    for (const study::VariantFindings& variant : findings.variants) {
      for (const study::RequirementRow& row : variant.requirements) {
        if (row.id != id) continue;
        asked_for = &row;
        table.rows.push_back(requirement_cells(variant.id, row, notes));
      }
    }
    table.columns[1].unit = table.columns[2].unit = asked_for->unit;
    page.space();
    page.say(id + ": " + asked_for->quantity + (asked_for->is_max ? " ≤ " : " ≥ ") +
             print_number(asked_for->limit, 4) + ' ' + asked_for->unit);
    page.table(table);
    page.notes(notes);
    for (const study::VariantFindings& variant : findings.variants)
      for (const study::RequirementRow& row : variant.requirements)
        if (row.id == id && row.parts)
          page.say(parts_in_words(*row.parts), "· " + variant.id + ": ");
  }
}

std::vector<std::string> assumed_share_in_words(const study::Findings& findings) {
  std::vector<std::string> out;
  if (!findings.headline.empty())
    out.push_back(share_in_words(findings.assumed_share, findings.headline));
  if (!findings.headline_of_benefit.empty())
    out.push_back(share_in_words(findings.assumed_share_of_benefit, findings.headline_of_benefit));
  return out;
}

Table register_table(const study::Findings& findings, std::size_t rows) {
  Table table{.columns = {{"number", "", Align::left, true},
                          {"value", "", Align::left},
                          {"basis", "", Align::left},
                          {"moves", "", Align::left, true},
                          {"source", "", Align::left, true}},
              .rows = {}};
  for (std::size_t i = 0; i < std::min(findings.assumptions.size(), rows); ++i) {
    const study::Assumption& row = findings.assumptions[i];
    const std::string value = row.unknown ? "unknown: " + row.value : row.value;
    const std::string moves = row.moves_figure.empty() ? std::string()
                                                       : print_number(100.0 * row.moves_share, 2) +
                                                             " % of " + row.moves_figure;
    table.rows.push_back({words(row.name), words(value + ' ' + row.unit),
                          words(std::string(to_word(row.basis))), words(moves), words(row.source)});
  }
  return table;
}

void print_register(const study::Findings& findings, Page& page) {
  if (findings.assumptions.empty()) return;
  page.heading("Register of numbers, those that move most first");
  if (findings.headline.empty())
    page.say("What each number moves is ranked by the trade command only.");
  page.space();
  page.table(register_table(findings, rows_of_register));
  if (rows_of_register < findings.assumptions.size())
    page.say(std::to_string(findings.assumptions.size() - rows_of_register) +
             " more numbers stand in the register of the result document.");
}

void print_cautions(const study::Findings& findings, Page& page) {
  if (findings.cautions.empty()) return;
  page.heading("Cautions");
  for (const std::string& caution : findings.cautions) page.say(caution, "· ");
}

void print_not_claimed(const study::Findings& findings, Page& page) {
  if (!findings.trade || findings.trade->claim.rung >= top_rung) return;
  page.heading("Not claimed");
  page.say("Nothing above rung " + std::to_string(findings.trade->claim.rung) + " of the " +
           std::to_string(top_rung) + " rungs of the claim ladder.");
}

}  // namespace ohmdrag::report

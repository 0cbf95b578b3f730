#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

constexpr std::size_t rows_of_register = 12;  // one screen; the JSON document has all
constexpr int top_rung = 7;

}  // namespace

void print_requirements(const study::Findings& findings, Page& page) {
  Footnotes notes;
  Table table{.columns = {{"variant", "", Align::left},
                          {"requirement", "", Align::left},
                          {"quantity", "", Align::left, true},
                          {"at", "", Align::left, true},
                          {"limit"},
                          {"value"},
                          {"unit", "", Align::left},
                          {"met", "", Align::left},
                          {"probability"},
                          {"margin"}},
              .rows = {}};
  for (const study::VariantFindings& variant : findings.variants) {
    for (const study::RequirementRow& row : variant.requirements) {
      const bool asked = !row.not_applicable;
      table.rows.push_back({words(variant.id), words(row.id), words(row.quantity), words(row.at),
                            words((row.is_max ? "≤ " : "≥ ") + print_number(row.limit, 4)),
                            asked ? figure(row.value) : words(std::string(nothing)),
                            words(row.unit),
                            words(row.met ? "yes"
                                  : asked ? "no"
                                          : "no " + notes.mark(*row.not_applicable)),
                            asked ? figure(row.probability) : words(std::string(nothing)),
                            asked ? figure(row.margin) : words(std::string(nothing))});
    }
  }
  if (table.rows.empty()) return;
  page.heading("Requirements");
  page.table(table);
  page.notes(notes);
}

void print_register(const study::Findings& findings, Page& page) {
  if (findings.assumptions.empty()) return;
  page.heading("How much rests on assumed numbers");
  page.say(print_number(100.0 * findings.assumed_share, 2) + " % of the variance" +
           (findings.headline.empty() ? std::string() : " of " + findings.headline) +
           " rests on numbers that are assumed, unverified or a single claim.");
  page.space();
  Table table{.columns = {{"number", "", Align::left, true},
                          {"value", "", Align::left, true},
                          {"unit", "", Align::left},
                          {"basis", "", Align::left},
                          {"moves", "%"},
                          {"figure moved", "", Align::left, true},
                          {"source", "", Align::left, true}},
              .rows = {}};
  const std::size_t shown = std::min(findings.assumptions.size(), rows_of_register);
  for (std::size_t i = 0; i < shown; ++i) {
    const study::Assumption& row = findings.assumptions[i];
    const std::string basis = std::string(to_word(row.basis)) + (row.unknown ? ", unknown" : "");
    table.rows.push_back({words(row.name), words(row.value), words(row.unit), words(basis),
                          words(print_number(100.0 * row.moves_share, 2)), words(row.moves_figure),
                          words(row.source)});
  }
  page.table(table);
  if (shown < findings.assumptions.size())
    page.say(std::to_string(findings.assumptions.size() - shown) +
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

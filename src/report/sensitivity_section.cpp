#include <fmt/format.h>

#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

using study::FigureMoves;
using study::SensitivityFindings;

constexpr std::size_t most_inputs = 10;  // one screen; the JSON document has all

Cell share(const study::VarianceShare& of) {
  const auto per_cent = [](double value) { return print_number(100.0 * value, 2); };
  return {per_cent(of.value), fmt::format("({} … {})", per_cent(of.low), per_cent(of.high))};
}

Cell per_cent(double value) { return figure(100.0 * value); }

void print_moves(const FigureMoves& moves, Page& page) {
  page.space();
  if (moves.inputs.empty()) {
    page.say(moves.figure + ": " + moves.remark + ".");
    return;
  }
  page.say(fmt::format("{}: mean {} {}, standard deviation {}; {} evaluations", moves.figure,
                       print_number(moves.mean, 3), moves.unit, print_number(moves.deviation, 2),
                       moves.evaluations));
  Table table{.columns = {{"input", "", Align::left, true},
                          {"by itself", "%"},
                          {"with others", "%"},
                          {"basis", "", Align::left}},
              .rows = {}};
  for (std::size_t i = 0; i < std::min(moves.inputs.size(), most_inputs); ++i) {
    const study::InputMoves& input = moves.inputs[i];
    const std::string name =
        input.inputs > 1 ? fmt::format("{}, {} inputs", input.name, input.inputs) : input.name;
    table.rows.push_back(
        {words(name), share(input.first), share(input.total),
         words((input.inputs > 1 ? "down to " : "") + std::string(to_word(input.basis)))});
  }
  if (moves.assumed)
    table.rows.push_back({words("all that is assumed, unverified or a single claim"),
                          share(*moves.assumed), words(std::string(nothing)), words("")});
  page.table(table);
  if (!moves.remark.empty()) page.say("Here " + moves.remark + ".");
}

void print_dial(const SensitivityFindings& found, Page& page) {
  page.heading("Evidence dial");
  page.say(found.dial_sentence);
  if (found.dial.size() < 2) return;
  page.space();
  Footnotes notes;
  Table table{.columns = {{"kept", "", Align::left},
                          {"opened"},
                          {"answer", "", Align::left},
                          {"best in", "%"},
                          {"net power", "W"},
                          {"at the battery", "Wh/km"},
                          {"energy a year", "kWh"},
                          {"dose factor", "1"}},
              .rows = {}};
  for (const study::DialStep& step : found.dial) {
    const bool computed = step.why.empty();
    table.rows.push_back({words(step.kept), figure(static_cast<double>(step.opened)),
                          words(computed ? (step.chosen.empty() ? "none" : step.chosen)
                                         : "not computed " + notes.mark(step.why)),
                          computed ? per_cent(step.probability_best) : words(std::string(nothing)),
                          figure(step.net_W), figure(step.battery_Wh_per_km),
                          figure(step.kWh_per_year), figure(step.dose_factor)});
  }
  page.table(table);
  page.notes(notes);
  page.say(
      "Opened numbers take the range of the trade, else their stated range evenly, else what "
      "common practice grants; the result document lists them.");
}

void print_ranks(const SensitivityFindings& found, Page& page) {
  page.heading("Order of the variants, draw by draw");
  Table table{.columns = {{"variant", "", Align::left}}, .rows = {}};
  for (std::size_t place = 0; place < found.ranks.size(); ++place)
    table.columns.push_back({place == 0 ? "first" : fmt::format("place {}", place + 1), "%"});
  table.columns.push_back({"not to be chosen", "%"});
  for (const study::RankRow& row : found.ranks) {
    table.rows.push_back({words(row.variant)});
    for (const double place : row.places) table.rows.back().push_back(per_cent(place));
    table.rows.back().push_back(per_cent(row.out));
  }
  page.table(table);
  for (const study::RankPair& pair : found.rank_pairs)
    if (pair.holds + pair.turned > 0.0)
      page.say(fmt::format(
          "{} before {} in {} % of the draws, behind it in {} %, undecided in {} %.", pair.ahead,
          pair.behind, print_number(100.0 * pair.holds, 3), print_number(100.0 * pair.turned, 3),
          print_number(100.0 * pair.undecided, 3)));
}

}  // namespace

void print_sensitivity(const study::Findings& findings, Page& page) {
  if (!findings.sensitivity) return;
  const SensitivityFindings& found = *findings.sensitivity;
  page.heading("What moves the answer");
  page.say(
      "Share of each figure's variance, and the interval it lies in; correlated inputs count as "
      "one.");
  for (const FigureMoves& moves : found.figures) print_moves(moves, page);
  print_dial(found, page);
  if (!found.ranks.empty()) print_ranks(found, page);
  page.heading("What would overturn it");
  for (const std::string& sentence : found.stress.sentences) page.say(sentence, "· ");
}

}  // namespace ohmdrag::report

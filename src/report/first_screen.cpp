#include "report/first_screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

constexpr std::size_t doubts_shown = 3;

ScreenNumber cost_of(const study::ExchangeRow& row) {
  if (row.battery_Wh_per_km)
    return {figure(row.battery_Wh_per_km), "Wh/km",
            "energy it costs at the battery, over the service mix"};
  if (row.kWh_per_year)
    return {figure(row.kWh_per_year), "kWh", "energy it costs a year, over the service mix"};
  return {figure(row.point_net_W), "W", "power it costs at " + row.net_point};
}

/// What a case without shaft voltage has instead of discharges.
void add_watts(const study::ExchangeRow& row, const std::vector<std::string>& points,
               std::vector<ScreenNumber>& out) {
  for (std::size_t p = 0; p < std::min<std::size_t>({2, points.size(), row.net_W_by_point.size()});
       ++p)
    out.push_back({figure(row.net_W_by_point[p]), "W", "power it costs at " + points[p]});
}

void add_discharges(const study::ExchangeRow& row, const study::ExchangeRow* baseline,
                    std::vector<ScreenNumber>& out) {
  if (!row.no_discharge && std::isinf(row.dose_factor->low))
    out.push_back(
        {words("none"), "", "discharge left in the model, in at least 95 % of the draws"});
  else if (!row.no_discharge)
    out.push_back({figure(row.dose_factor), "", "times less discharge dose than the baseline"});
  else if (baseline && baseline->no_discharge)
    out.push_back({words("none"), "", "discharge in the model, and none in the baseline either"});
  else
    out.push_back({words("none"), "", "discharge left in the model"});
  out.push_back({figure(row.striking_time_share, 100.0), "%",
                 "share of the driving time in which it still strikes (removed by it: " +
                     figure(row.striking_time_share_removed, 100.0).text + " %)"});
}

bool in_doubt(const study::Assumption& row) {
  return row.moves_share > 0.0 &&
         (row.unknown || row.basis == Basis::assumed || row.basis == Basis::unverified ||
          row.basis == Basis::single_claim);
}

std::string value_of(const ScreenNumber& number) {
  std::string text = number.value.text;
  if (!number.unit.empty()) text += ' ' + number.unit;
  if (!number.value.tail.empty()) text += ' ' + number.value.tail;
  return text;
}

void print_numbers(const Subject& subject, Page& page) {
  const std::vector<ScreenNumber> numbers = three_numbers(subject);
  if (numbers.empty()) return;
  page.heading("Three numbers");
  page.say(numbers_of_whom(subject));
  for (const ScreenNumber& number : numbers) page.say(number.what + ": " + value_of(number), "· ");
}

void print_doubts(const study::Findings& findings, Page& page) {
  const std::vector<ScreenDoubt> doubts = three_doubts(findings);
  if (!doubts.empty()) {
    page.heading(doubts_heading(doubts.size()));
    for (const ScreenDoubt& doubt : doubts) page.say(doubt.name + ' ' + doubt.text, "· ");
  }
  const std::vector<std::string> assumed = assumed_share_in_words(findings);
  if (!assumed.empty()) page.heading("How much rests on assumed inputs");
  for (const std::string& sentence : assumed) page.say(sentence);
}

}  // namespace

std::string chosen_in_words(const study::Trade& trade) {
  return trade.chosen.empty() ? "No variant is chosen."
                              : trade.chosen + ", probability of being best " +
                                    print_number(trade.probability_best, 3) + ".";
}

std::string rung_in_words(const study::Claim& claim) {
  return fmt::format("Claim, rung {} of {}", claim.rung, top_rung);
}

std::vector<ScreenNumber> three_numbers(const Subject& subject) {
  std::vector<ScreenNumber> out;
  if (!subject.exchange) return out;
  const study::ExchangeRow& row = *subject.exchange;
  out.push_back(cost_of(row));
  if (row.no_discharge || row.dose_factor)
    add_discharges(row, subject.baseline_exchange, out);
  else
    add_watts(row, subject.findings.points, out);
  return out;
}

std::string numbers_of_whom(const Subject& subject) {
  return "Of " + subject.name_of_other() + " against the baseline; in brackets 95 % of the draws.";
}

std::vector<ScreenDoubt> three_doubts(const study::Findings& findings) {
  std::vector<ScreenDoubt> out;
  for (const study::Assumption& row : findings.assumptions) {
    if (out.size() == doubts_shown) break;
    if (!in_doubt(row)) continue;
    out.push_back(
        {row.name, fmt::format("= {}{}{}, {}: moves {} % of the variance of {}.", row.value,
                               row.unit.empty() ? "" : " ", row.unit,
                               row.unknown ? "unknown to the case" : to_word(row.basis),
                               print_number(100.0 * row.moves_share, 2), row.moves_figure)});
  }
  return out;
}

std::string doubts_heading(std::size_t count) {
  return count == 1 ? "One doubt" : count == 2 ? "Two doubts" : "Three doubts";
}

void print_first_screen(const study::Findings& findings, Page& page) {
  const study::Trade& trade = *findings.trade;
  page.heading("Answer");
  page.say(chosen_in_words(trade));
  page.say(trade.reason);
  page.say(trade.claim.sentence, rung_in_words(trade.claim) + ": ");
  page.say(trade.claim.missing, "Next rung: ");
  print_numbers(subject(findings), page);
  print_doubts(findings, page);
  if (!findings.sensitivity) return;
  page.space();
  page.say(findings.sensitivity->argument_against, "Against it: ");
}

}  // namespace ohmdrag::report

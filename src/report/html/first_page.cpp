#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/html/markup.hpp"
#include "report/html/parts_of_page.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

constexpr int top_rung = 7;
constexpr std::size_t doubts_shown = 3;

std::string paragraph_of(const std::string& text) {
  return text.empty() ? std::string() : "<p>" + escaped(text) + "</p>\n";
}

std::string head_of(const study::Findings& findings, const Subject& subject) {
  const std::string title = findings.title.empty() ? findings.file : findings.title;
  std::string out = "<header>\n<p class=kind>Trade study";
  if (findings.invented) out += ", invented scenario";
  out += "</p>\n<h1>" + escaped_heading(title) + "</h1>\n";
  if (!findings.question.empty())
    out += "<p class=question>" + escaped(findings.question) + "</p>\n";
  out += "<p>Baseline: " + escaped(findings.baseline);
  if (subject.baseline && !subject.baseline->title.empty())
    out += ", " + escaped(subject.baseline->title);
  out += ".</p>\n";
  if (!findings.changes.empty()) {
    std::string changes;
    for (const std::string& change : findings.changes)
      changes += (changes.empty() ? "" : "; ") + change;
    out += "<p>Changed on the command line: " + escaped(changes) + "</p>\n";
  }
  return out + "</header>\n";
}

std::string answer_of(const study::Trade& trade) {
  const std::string chosen = trade.chosen.empty()
                                 ? "No variant is chosen."
                                 : trade.chosen + ", probability of being best " +
                                       print_number(trade.probability_best, 3) + ".";
  return "<h2>Answer</h2>\n<p class=answer><b>" + escaped(chosen) + "</b> " +
         escaped(trade.reason) + "</p>\n<p><b>Claim, rung " + std::to_string(trade.claim.rung) +
         " of " + std::to_string(top_rung) + ":</b> " + escaped(trade.claim.sentence) +
         "</p>\n<p><b>For the next rung:</b> " + escaped(trade.claim.missing) + ".</p>\n";
}

std::string number_of(const Cell& figure, const std::string& unit, const std::string& what) {
  std::string value = "<span class=value>" + escaped(figure.text) + "</span>";
  if (!unit.empty()) value += " <span class=unit>" + escaped(unit) + "</span>";
  if (!figure.tail.empty()) value += "<br><span class=ends>" + escaped(figure.tail) + "</span>";
  return "<div><dt>" + escaped(what) + "</dt><dd>" + value + "</dd></div>\n";
}

std::string cost_of(const study::ExchangeRow& row) {
  if (row.battery_Wh_per_km)
    return number_of(figure(row.battery_Wh_per_km), "Wh/km",
                     "costs at the battery, over the service mix");
  if (row.kWh_per_year)
    return number_of(figure(row.kWh_per_year), "kWh", "costs a year, over the service mix");
  return number_of(figure(row.point_net_W), "W", "costs at " + row.net_point);
}

/// What a case without shaft voltage has instead of discharges.
std::string watts_of(const study::ExchangeRow& row, const std::vector<std::string>& points) {
  std::string out;
  for (std::size_t p = 0; p < std::min<std::size_t>({2, points.size(), row.net_W_by_point.size()});
       ++p)
    out += number_of(figure(row.net_W_by_point[p]), "W", "costs at " + points[p]);
  return out;
}

std::string discharges_of(const study::ExchangeRow& row, const study::ExchangeRow* baseline) {
  const std::string dose =
      !row.no_discharge
          ? number_of(figure(row.dose_factor), "", "times less discharge dose than the baseline")
      : baseline && baseline->no_discharge
          ? number_of(words("none"), "", "discharge in the model, and none in the baseline either")
          : number_of(words("none"), "", "discharge left in the model");
  return dose + number_of(figure(row.striking_time_share, 100.0), "%",
                          "of the driving time it still strikes; of it removed: " +
                              figure(row.striking_time_share_removed, 100.0).text + " %");
}

/// Cost, dose and time of the variant that the page speaks of.
std::string numbers_of(const Subject& subject) {
  if (!subject.exchange) return {};
  const study::ExchangeRow& row = *subject.exchange;
  const bool electrical = row.no_discharge || row.dose_factor;
  return "<h2>Three numbers</h2>\n<p>Of " + escaped(subject.name_of_other()) +
         " against the baseline; in brackets 95 % of the draws.</p>\n<dl class=numbers>\n" +
         cost_of(row) +
         (electrical ? discharges_of(row, subject.baseline_exchange)
                     : watts_of(row, subject.findings.points)) +
         "</dl>\n";
}

bool in_doubt(const study::Assumption& row) {
  return row.moves_share > 0.0 &&
         (row.unknown || row.basis == Basis::assumed || row.basis == Basis::unverified ||
          row.basis == Basis::single_claim);
}

/// The numbers nobody has measured that move the answer most.
std::string doubts_of(const study::Findings& findings) {
  std::string out;
  std::size_t shown = 0;
  for (const study::Assumption& row : findings.assumptions) {
    if (shown == doubts_shown) break;
    if (!in_doubt(row)) continue;
    ++shown;
    out += "<li><b>" + escaped(row.name) +
           "</b> = " + escaped(row.value + (row.unit.empty() ? "" : " " + row.unit)) + ", " +
           escaped(row.unknown ? std::string("unknown to the case")
                               : std::string(to_word(row.basis))) +
           ": moves " + print_number(100.0 * row.moves_share, 2) + " % of the variance of " +
           escaped(row.moves_figure) + ".</li>\n";
  }
  if (out.empty()) return {};
  return "<h2>" +
         std::string(shown == 1   ? "One doubt"
                     : shown == 2 ? "Two doubts"
                                  : "Three doubts") +
         "</h2>\n<p>The numbers without evidence that move the answer most.</p>\n<ol>\n" + out +
         "</ol>\n";
}

std::string assumed_of(const study::Findings& findings) {
  std::string out;
  for (const std::string& sentence : assumed_share_in_words(findings))
    out += paragraph_of(sentence);
  return out.empty() ? out : "<h2>How much rests on assumed inputs</h2>\n" + out;
}

std::string argument_of(const study::Findings& findings) {
  if (!findings.sensitivity || findings.sensitivity->argument_against.empty()) return {};
  return "<h2>The strongest argument against</h2>\n" +
         paragraph_of(findings.sensitivity->argument_against);
}

}  // namespace

std::string first_page(const Subject& subject, const HtmlParts& parts) {
  const study::Findings& findings = subject.findings;
  std::string out = head_of(findings, subject) + "<section id=answer class=first>\n";
  if (findings.trade) out += answer_of(*findings.trade);
  out += numbers_of(subject) + workings("answer", subject, parts) + doubts_of(findings) +
         assumed_of(findings) + argument_of(findings);
  return out +
         "<p class=note>An estimate for trade studies, not a safety case. High voltage, "
         "rotating shafts and hot parts: see the <a href=\"#cautions\">cautions</a>.</p>\n"
         "</section>\n";
}

}  // namespace ohmdrag::report

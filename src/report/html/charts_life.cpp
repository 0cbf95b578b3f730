// What comes together over the service, and what moves the answer.

#include "report/html/charts.hpp"

namespace ohmdrag::report {
namespace {

constexpr std::size_t most_movers = 10;
constexpr double per_cent = 100.0;

Chart survival_chart(const study::YearsFindings& years, const std::string& name) {
  Chart chart{.id = "survival",
              .drawing = "survival",
              .title = "Survival of all bearings over the service, " + name,
              .statement = years.survival_in_words,
              .data = {.fields = {{"hours", "running time", "h"},
                                  {"variant", "with the element", "1"},
                                  {"baseline", "baseline", "1"},
                                  {"open", "element open from the start", "1"},
                                  {"fatigue", "fatigue alone", "1"}},
                       .rows = {}}};
  for (const study::YearsStep& step : years.steps)
    chart.data.rows.push_back({step.hours, step.survival, step.baseline_survival,
                               step.open_survival, step.fatigue_survival});
  return chart;
}

Chart dose_chart(const study::YearsFindings& years, const std::string& name) {
  Chart chart{.id = "dose",
              .drawing = "dose",
              .title = "Discharge dose over the service, " + name,
              .statement =
                  "Energy of discharges over the loaded area that has come together by an "
                  "age; everything at its middle.",
              .data = {.fields = {{"hours", "running time", "h"},
                                  {"variant", "with the element", "J/mm²"},
                                  {"baseline", "baseline", "J/mm²"},
                                  {"open", "element open from the start", "J/mm²"}},
                       .rows = {}}};
  for (const study::YearsStep& step : years.steps)
    chart.data.rows.push_back(
        {step.hours, step.dose_J_per_mm2, step.baseline_dose_J_per_mm2, step.open_dose_J_per_mm2});
  return chart;
}

}  // namespace

std::vector<Chart> life_charts(const Subject& subject) {
  if (!subject.other || !subject.other->years) return {};
  const study::YearsFindings& years = *subject.other->years;
  return {dose_chart(years, subject.name_of_other()),
          survival_chart(years, subject.name_of_other())};
}

std::vector<Chart> moves_charts(const Subject& subject) {
  std::vector<Chart> charts;
  if (!subject.findings.sensitivity) return charts;
  for (const study::FigureMoves& moves : subject.findings.sensitivity->figures) {
    Chart chart{.id = "moves-" + std::to_string(charts.size() + 1),
                .drawing = "moves",
                .title = "What moves " + moves.figure,
                .statement =
                    "Share of the variance that goes with each input, by itself and "
                    "together with others; line: 95 % interval of that estimate. Beside "
                    "the bar: what the number rests on.",
                .data = {.fields = {{"number", "number"},
                                    {"share", "share of the variance", "%"},
                                    {"basis", "basis"}},
                         .rows = {}}};
    for (const study::InputMoves& input : moves.inputs) {
      if (chart.data.rows.size() == most_movers) break;
      const study::VarianceShare& share = input.total;
      chart.data.rows.push_back({input.name, scaled({share.low, share.value, share.high}, per_cent),
                                 std::string(to_word(input.basis))});
    }
    charts.push_back(std::move(chart));
  }
  return charts;
}

}  // namespace ohmdrag::report

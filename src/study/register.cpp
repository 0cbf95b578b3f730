#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/electric.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

/// The two figures a reader weighs: the watts of a variant and the dose it takes away.
struct Headline {
  double net_W = 0.0;
  double log_dose_rate = 0.0;  ///< lg W/m2 of the baseline at the headline point
};

Headline headline_at(const Ensemble& ensemble, std::size_t v, std::size_t point, const Draw& draw) {
  const Case& question = *ensemble.question;
  const auto total_W = [&](const WorldModel& model, const VariantModel& unit) {
    return point_sample(model, unit, model.world->points[point], draw).total_W;
  };
  const WorldModel base_model(ensemble.world(ensemble.baseline), draw);
  const VariantModel base(base_model, question.variants[ensemble.baseline], draw,
                          ensemble.histories[ensemble.baseline]);
  const double base_W = total_W(base_model, base);

  Headline result{base_W, 0.0};
  if (&ensemble.world(v) == base_model.world) {
    result.net_W = total_W(base_model, VariantModel(base_model, question.variants[v], draw,
                                                    ensemble.histories[v])) -
                   base_W;
  } else {
    const WorldModel model(ensemble.world(v), draw);
    result.net_W =
        total_W(model, VariantModel(model, question.variants[v], draw, ensemble.histories[v])) -
        base_W;
  }
  double dose_rate = 0.0;
  if (has_electrics(*base_model.world))
    dose_rate =
        ElectricModel(base_model, base, draw).at(base_model.world->points[point], draw).dose_rate;
  // One discharge of a nanojoule a second on a square millimetre is as good as none.
  result.log_dose_rate = std::log10(std::max(dose_rate, 1e-3));
  return result;
}

std::size_t headline_variant(const Ensemble& ensemble, const Findings& findings) {
  const auto& variants = ensemble.question->variants;
  if (findings.trade)
    for (std::size_t v = 0; v < variants.size(); ++v)
      if (variants[v].id == findings.trade->chosen && v != ensemble.baseline) return v;
  for (std::size_t v = 0; v < variants.size(); ++v)
    if (v != ensemble.baseline && variants[v].grounding) return v;
  return ensemble.baseline;
}

Assumption row_of(const UncertainNumber& number) {
  Assumption row;
  row.name = number.key;
  const InUnit shown = in_engineering_unit(number.spread.interval(), number.dimension);
  row.value = print_interval(shown.value);
  row.unit = shown.unit;
  row.interval = shown.value;
  row.basis = number.basis;
  row.source = number.source;
  row.unknown = number.unknown;
  row.share = number.share;
  return row;
}

}  // namespace

void fill_register(const Ensemble& ensemble, Findings& findings) {
  const Case& question = *ensemble.question;
  std::set<std::string> seen;
  for_each_number(question, [&](const UncertainNumber& number) {
    if (!number.key.empty() && seen.insert(number.key).second)
      findings.assumptions.push_back(row_of(number));
  });

  if (!question.points.empty() && ensemble.sections.trade) {
    const std::size_t v = headline_variant(ensemble, findings);
    std::size_t point = 0;
    if (findings.trade)
      for (std::size_t p = 0; p < question.points.size(); ++p)
        if (question.points[p].id == findings.trade->exchange[v].net_point) point = p;

    // One number at a time between its 2.5 % and 97.5 % points, everything else at its middle: the
    // first-order variance of a smooth figure.
    const auto numbers = ensemble.draws->drawn();
    std::vector<std::pair<double, double>> swings(numbers.size());
    oneapi::tbb::parallel_for(std::size_t{0}, numbers.size(), [&](std::size_t i) {
      const Headline low = headline_at(ensemble, v, point, Draw(numbers[i]->key, 0.025));
      const Headline high = headline_at(ensemble, v, point, Draw(numbers[i]->key, 0.975));
      swings[i] = {std::pow(0.5 * (high.net_W - low.net_W), 2),
                   std::pow(0.5 * (high.log_dose_rate - low.log_dose_rate), 2)};
    });
    std::map<std::string, std::pair<double, double>> moved;  // key -> squared half swings
    double all_watts = 0.0, all_dose = 0.0;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
      moved[numbers[i]->key] = swings[i];
      all_watts += swings[i].first;
      all_dose += swings[i].second;
    }
    const std::string watts_figure =
        "net W of " + question.variants[v].id + " at " + question.points[point].id;
    const std::string dose_figure = "discharge dose of " + question.variants[ensemble.baseline].id +
                                    " at " + question.points[point].id;
    for (Assumption& row : findings.assumptions) {
      const auto found = moved.find(row.name);
      if (found == moved.end()) continue;
      const double watts = all_watts > 0.0 ? found->second.first / all_watts : 0.0;
      const double dose = all_dose > 0.0 ? found->second.second / all_dose : 0.0;
      row.moves_figure = watts >= dose ? watts_figure : dose_figure;
      row.moves_share = std::max(watts, dose);
      if (rests_on_assumption(row.basis)) {
        findings.assumed_share += watts;
        findings.assumed_share_of_benefit += dose;
      }
    }
    findings.headline = watts_figure;
    findings.headline_of_benefit = dose_figure;
  }
  std::stable_sort(
      findings.assumptions.begin(), findings.assumptions.end(),
      [](const Assumption& a, const Assumption& b) { return a.moves_share > b.moves_share; });
}

}  // namespace ohmdrag::study

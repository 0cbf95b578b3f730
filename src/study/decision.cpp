#include "study/decision.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include "ohmdrag/study/visit.hpp"
#include "study/choice.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

/// A factor beyond this decides nothing more.
constexpr double widest_lg = 9.0;

double lg(double value) {
  if (std::isnan(value)) return value;
  return std::clamp(value > 0.0 ? std::log10(value) : -widest_lg, -widest_lg, widest_lg);
}

std::vector<double> deciding_in(const ChoiceRule& rule, std::size_t draw) {
  const Ensemble& ensemble = rule.ensemble();
  const Case& question = *ensemble.question;
  const VariantSample& base = ensemble.samples[ensemble.baseline][draw];
  std::vector<double> result;
  for (std::size_t v = 0; v < question.variants.size(); ++v) {
    const VariantSample& sample = ensemble.samples[v][draw];
    result.push_back(rule.cost(sample, base));
    result.push_back(lg(rule.gain(sample, base)));
    for (const Requirement& requirement : question.requirements)
      result.push_back(
          lg(requirement_value(ensemble, requirement, v, draw).value_or(not_a_figure)));
  }
  return result;
}

}  // namespace

double Decision::right_of_chosen(const Case& question) const {
  for (std::size_t v = 0; v < question.variants.size(); ++v)
    if (question.variants[v].id == chosen) return right[v];
  return right.back();
}

Trade weighed(const Ensemble& ensemble, std::vector<VariantFindings>& findings) {
  const Case& question = *ensemble.question;
  const ServiceMeans means(ensemble);
  findings.assign(question.variants.size(), {});
  for (std::size_t v = 0; v < findings.size(); ++v) {
    findings[v].id = question.variants[v].id;
    fill_life(means, v, findings[v]);
    fill_law_blindness(means, v, findings[v]);
    if (!ensemble.sections.discharges_alone) fill_rating_life(means, v, findings[v]);
    fill_harm(ensemble, v, Nominal(ensemble, v), findings[v]);
    fill_requirements(ensemble, v, findings[v]);
  }
  return trade(means, findings);
}

DecidingFigures deciding_figures(const Ensemble& ensemble) {
  // Harm is told by all draws together and moves none of these figures.
  const ChoiceRule rule(ensemble, std::vector<bool>(ensemble.question->variants.size()));
  DecidingFigures result;
  for (std::size_t i = 0; i < ensemble.samples.front().size(); ++i)
    result.push_back(deciding_in(rule, i));
  return result;
}

Decision decision_of(const Ensemble& ensemble) {
  std::vector<VariantFindings> findings;
  const Trade weights = weighed(ensemble, findings);

  Decision result;
  result.chosen = weights.chosen;
  double none = 1.0;
  for (std::size_t v = 0; v < findings.size(); ++v) {
    result.right.push_back(weights.exchange[v].probability_best);
    none -= result.right.back();
    std::vector<bool> missed;
    for (const RequirementRow& row : findings[v].requirements)
      missed.push_back(!row.not_applicable && !row.met);
    result.missed.push_back(std::move(missed));
  }
  result.right.push_back(std::max(0.0, none));
  result.deciding = deciding_figures(ensemble);
  return result;
}

Case with_known(const Case& question, const std::string& key, double u) {
  const auto know = [&](UncertainNumber& number) {
    if (number.key != key || number.spread.shape == Shape::exact) return;
    const double value = number.spread.quantile(u);
    number.spread = {};
    number.spread.mid = value;
  };
  Case known = question;
  for_each_number(known, know);
  for (Variant& variant : known.variants)
    if (variant.world) {
      Case world = *variant.world;
      for_each_number(world, know);
      variant.world = std::make_shared<const Case>(std::move(world));
    }
  return known;
}

}  // namespace ohmdrag::study

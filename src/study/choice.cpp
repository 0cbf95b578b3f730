#include "study/choice.hpp"

#include <algorithm>
#include <limits>

#include "study/exchange.hpp"

namespace ohmdrag::study {

bool dominates(std::span<const std::vector<double>> a, std::span<const std::vector<double>> b) {
  const std::size_t draws = a.front().size();
  std::size_t wins = 0;
  for (std::size_t i = 0; i < draws; ++i) {
    bool no_worse = true, better = false;
    for (std::size_t c = 0; c < a.size(); ++c) {
      no_worse = no_worse && a[c][i] <= b[c][i];
      better = better || a[c][i] < b[c][i];
    }
    wins += no_worse && better ? 1 : 0;
  }
  return double(wins) >= 0.95 * double(draws);
}

ChoiceRule::ChoiceRule(const Ensemble& ensemble, std::vector<bool> harms)
    : ensemble_(&ensemble), mix_(service_mix(*ensemble.question)), harms_(std::move(harms)) {}

double ChoiceRule::cost(const VariantSample& sample, const VariantSample& baseline) const {
  if (!sample.duties.empty()) {
    const auto per_unit = [&](const VariantSample& s) {
      return over_mix(mix_, s, mix_.driven ? battery_Wh_per_km : mean_W);
    };
    return per_unit(sample) - per_unit(baseline);
  }
  double sum = 0.0;
  for (std::size_t p = 0; p < sample.points.size(); ++p)
    sum += total_W(sample, p) - total_W(baseline, p);
  return sum / std::max<double>(1.0, double(sample.points.size()));
}

double ChoiceRule::gain(const VariantSample& sample, const VariantSample& baseline) const {
  if (sample.duties.empty()) return 1.0;
  return dose_factor(service_sum(mix_, baseline), service_sum(mix_, sample));
}

bool ChoiceRule::meets_all(std::size_t v, const VariantSample& sample,
                           const VariantSample& baseline) const {
  for (const Requirement& requirement : ensemble_->question->requirements) {
    const auto value = requirement_value(*ensemble_, requirement, v, sample, baseline);
    if (value && !holds(requirement, *value)) return false;
  }
  return true;
}

std::vector<std::optional<double>> ChoiceRule::admissible(const DrawnVariants& drawn) const {
  const VariantSample& baseline = *drawn[ensemble_->baseline];
  std::vector<std::optional<double>> result(drawn.size());
  for (std::size_t v = 0; v < drawn.size(); ++v) {
    if (v == ensemble_->baseline) {
      if (!anything_required()) result[v] = std::numeric_limits<double>::infinity();
    } else if (!harms_[v] && gain(*drawn[v], baseline) >= least_visible_dose_factor &&
               meets_all(v, *drawn[v], baseline)) {
      result[v] = cost(*drawn[v], baseline);
    }
  }
  return result;
}

std::optional<std::size_t> ChoiceRule::choice(
    const std::vector<std::optional<double>>& admissible) {
  std::optional<std::size_t> best;
  for (std::size_t v = 0; v < admissible.size(); ++v)
    if (admissible[v] && (!best || *admissible[v] < *admissible[*best])) best = v;
  return best;
}

ChoiceRule choice_rule(const Ensemble& ensemble, const std::vector<VariantFindings>& variants) {
  std::vector<bool> harms;
  for (const VariantFindings& variant : variants) harms.push_back(harms_bearings(variant));
  return {ensemble, std::move(harms)};
}

DrawnVariants drawn_variants(const Ensemble& ensemble, std::size_t draw) {
  DrawnVariants drawn;
  for (const auto& of_variant : ensemble.samples) drawn.push_back(&of_variant[draw]);
  return drawn;
}

}  // namespace ohmdrag::study

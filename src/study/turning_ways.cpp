#include "study/turning_ways.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "study/exchange.hpp"

namespace ohmdrag::study {
namespace {

/// Margins are natural logarithms of ratios; beyond a factor of 150 a slope says nothing more, and
/// an infinite one has none. Bounded for the search alone: no figure is made of it.
constexpr double far = 5.0;
double bounded(double margin) { return std::isnan(margin) ? -far : std::clamp(margin, -far, far); }

/// Above zero where the requirement holds.
double margin_of(const Requirement& requirement, double value) {
  double margin = std::numeric_limits<double>::infinity();
  const auto against = [&](double limit, double sign) {
    const double one = limit > 0.0 && value > 0.0
                           ? std::log(limit / value)
                           : (limit - value) / std::max(std::abs(limit), 1e-12);
    margin = std::min(margin, sign * one);
  };
  if (requirement.max) against(requirement.max->mid(), 1.0);
  if (requirement.min) against(requirement.min->mid(), -1.0);
  return bounded(margin);
}

}  // namespace

Ways::Ways(const ChoiceRule& rule, std::optional<std::size_t> recommended)
    : rule_(rule), question_(*rule.ensemble().question), recommended_(recommended) {
  const bool displaces = recommended_ && *recommended_ != rule_.ensemble().baseline;
  if (displaces) add_falls(*recommended_);
  for (std::size_t v = 0; v < question_.variants.size(); ++v)
    if (v != rule_.ensemble().baseline && v != recommended_ && !rule_.harms(v))
      add_overtaking(v, displaces);
}

const VariantSample& Ways::baseline(const DrawnVariants& drawn) const {
  return *drawn[rule_.ensemble().baseline];
}

std::optional<double> Ways::kept(const Requirement& requirement, std::size_t v,
                                 const DrawnVariants& drawn) const {
  const auto value =
      requirement_value(rule_.ensemble(), requirement, v, *drawn[v], baseline(drawn));
  if (!value) return std::nullopt;
  return margin_of(requirement, *value);
}

double Ways::benefit(std::size_t v, const DrawnVariants& drawn) const {
  return bounded(std::log(rule_.gain(*drawn[v], baseline(drawn)) / least_visible_dose_factor));
}

std::vector<bool> Ways::read(std::initializer_list<std::size_t> variants) const {
  std::vector<bool> result(question_.variants.size());
  result[rule_.ensemble().baseline] = true;
  for (const std::size_t v : variants) result[v] = true;
  return result;
}

void Ways::add_falls(std::size_t v) {
  const std::string& id = question_.variants[v].id;
  for (const Requirement& requirement : question_.requirements)
    ways_.push_back({fmt::format("{} misses {} ({})", id, requirement.id, in_words(requirement)),
                     [this, v, &requirement](const DrawnVariants& drawn) {
                       return kept(requirement, v, drawn).value_or(bounded(INFINITY));
                     },
                     read({v})});
  ways_.push_back({fmt::format("{} no longer halves the discharge dose", id),
                   [this, v](const DrawnVariants& drawn) { return benefit(v, drawn); }, read({v})});
}

void Ways::add_overtaking(std::size_t v, bool displaces) {
  const std::string words =
      question_.variants[v].id + (displaces ? " may be chosen and costs less" : " may be chosen");
  ways_.push_back({words,
                   [this, v, displaces](const DrawnVariants& drawn) {
                     double least = benefit(v, drawn);
                     for (const Requirement& requirement : question_.requirements)
                       if (const auto margin = kept(requirement, v, drawn))
                         least = std::min(least, *margin);
                     if (displaces) least = std::min(least, cheaper(v, drawn));
                     return -least;
                   },
                   displaces ? read({v, *recommended_}) : read({v})});
}

/// Above zero where the variant costs less than the recommended one.
double Ways::cheaper(std::size_t v, const DrawnVariants& drawn) const {
  const double own = rule_.cost(*drawn[v], baseline(drawn));
  const double other = rule_.cost(*drawn[*recommended_], baseline(drawn));
  const double size = std::abs(own) + std::abs(other);
  return size > 0.0 ? bounded((other - own) / size) : 0.0;
}

bool is_out_of_reach(const Ensemble& ensemble, std::size_t v) {
  const auto out_of_reach = [&](const Requirement& requirement) {
    for (std::size_t i = 0; i < ensemble.samples[v].size(); ++i) {
      const auto value = requirement_value(ensemble, requirement, v, i);
      if (!value || margin_of(requirement, *value) > -far) return false;
    }
    return true;
  };
  return std::ranges::any_of(ensemble.question->requirements, out_of_reach);
}

}  // namespace ohmdrag::study

#include "study/stress_test.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "ohmdrag/quantity/print.hpp"
#include "study/exchange.hpp"
#include "study/flip_search.hpp"
#include "study/input_space.hpp"
#include "study/sensitivity_effort.hpp"

namespace ohmdrag::study {
namespace {

/// Margins are natural logarithms of ratios; beyond a factor of 150 a slope says nothing more, and
/// an infinite one has none. Bounded for the search alone: no figure is made of it.
double bounded(double margin) {
  constexpr double far = 5.0;
  return std::isnan(margin) ? -far : std::clamp(margin, -far, far);
}

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

/// A way in which the recommendation turns.
struct Way {
  std::string words;
  std::function<double(const DrawnVariants& drawn)> state;  ///< above zero: not yet
};

class Ways {
 public:
  Ways(const ChoiceRule& rule, std::optional<std::size_t> recommended)
      : rule_(rule), question_(*rule.ensemble().question), recommended_(recommended) {
    const bool displaces = recommended_ && *recommended_ != rule_.ensemble().baseline;
    if (displaces) add_falls(*recommended_);
    for (std::size_t v = 0; v < question_.variants.size(); ++v)
      if (v != rule_.ensemble().baseline && v != recommended_ && !rule_.harms(v))
        add_overtaking(v, displaces);
  }

  const std::vector<Way>& all() const { return ways_; }

 private:
  const VariantSample& baseline(const DrawnVariants& drawn) const {
    return *drawn[rule_.ensemble().baseline];
  }

  std::optional<double> kept(const Requirement& requirement, std::size_t v,
                             const DrawnVariants& drawn) const {
    const auto value =
        requirement_value(rule_.ensemble(), requirement, v, *drawn[v], baseline(drawn));
    if (!value) return std::nullopt;
    return margin_of(requirement, *value);
  }

  double benefit(std::size_t v, const DrawnVariants& drawn) const {
    return bounded(std::log(rule_.gain(*drawn[v], baseline(drawn)) / least_visible_dose_factor));
  }

  void add_falls(std::size_t v) {
    const std::string& id = question_.variants[v].id;
    for (const Requirement& requirement : question_.requirements)
      ways_.push_back({fmt::format("{} misses {} ({})", id, requirement.id, in_words(requirement)),
                       [this, v, &requirement](const DrawnVariants& drawn) {
                         return kept(requirement, v, drawn).value_or(bounded(INFINITY));
                       }});
    ways_.push_back({fmt::format("{} no longer halves the discharge dose", id),
                     [this, v](const DrawnVariants& drawn) { return benefit(v, drawn); }});
  }

  void add_overtaking(std::size_t v, bool displaces) {
    const std::string words =
        question_.variants[v].id + (displaces ? " may be chosen and costs less" : " may be chosen");
    ways_.push_back({words, [this, v, displaces](const DrawnVariants& drawn) {
                       double least = benefit(v, drawn);
                       for (const Requirement& requirement : question_.requirements)
                         if (const auto margin = kept(requirement, v, drawn))
                           least = std::min(least, *margin);
                       if (displaces) least = std::min(least, cheaper(v, drawn));
                       return -least;
                     }});
  }

  /// Above zero where the variant costs less than the recommended one.
  double cheaper(std::size_t v, const DrawnVariants& drawn) const {
    const double own = rule_.cost(*drawn[v], baseline(drawn));
    const double other = rule_.cost(*drawn[*recommended_], baseline(drawn));
    const double size = std::abs(own) + std::abs(other);
    return size > 0.0 ? bounded((other - own) / size) : 0.0;
  }

  const ChoiceRule& rule_;
  const Case& question_;
  std::optional<std::size_t> recommended_;
  std::vector<Way> ways_;
};

/// In the user's units, coordinate by coordinate of each input put together.
std::vector<ChangedInput> changed(const InputSpace& space, const std::vector<double>& scores) {
  std::vector<ChangedInput> result;
  const Places places = space.at_scores(scores);
  for (const InputAxis& axis : space.inputs()) {
    double squared = 0.0, largest = 0.0;
    for (const std::size_t c : axis.coordinates) {
      squared += scores[c] * scores[c];
      if (std::abs(scores[c]) > std::abs(largest)) largest = scores[c];
    }
    if (!(squared > 0.0)) continue;
    const UncertainNumber& number = *axis.number;
    const NumberPlace at = places.at(number.key);
    result.push_back({number.key, print_quantity(number.at(0.5, 0.5), number.dimension, 3),
                      print_quantity(number.at(at.spread, at.scatter), number.dimension, 3),
                      std::copysign(std::sqrt(squared), largest), number.basis});
  }
  std::ranges::stable_sort(result, std::greater{},
                           [](const ChangedInput& input) { return std::abs(input.scores); });
  return result;
}

std::string name_or(const std::string& id, const char* none) { return id.empty() ? none : id; }

std::string inputs_in_words(const Flip& flip) {
  std::string text;
  for (const ChangedInput& input : flip.inputs)
    text += fmt::format("{}{} {} → {}", text.empty() ? "" : ", ", input.name, input.from, input.to);
  return text;
}

std::vector<std::string> sentences(const StressTest& test, const FlipSearch& found) {
  std::vector<std::string> result;
  const std::string present = name_or(test.recommendation, "no variant");
  if (!test.remark.empty()) return {test.remark};
  if (test.middle_differs)
    return {fmt::format(
        "With every input at its middle the choice would be {}, not {}: it takes no change of "
        "inputs to overturn the recommendation, which speaks of the whole of the draws.",
        name_or(test.at_middle, "no variant"), present)};
  if (test.nearest)
    result.push_back(fmt::format(
        "The nearest inputs found at which {} is not the answer lie {} standard uncertainties from "
        "the middle (chance of being that far in that direction roughly {} %): {}. Then {}, and "
        "the choice is {}.",
        present, print_number(test.nearest->distance, 2),
        print_number(100.0 * test.nearest->probability, 1), inputs_in_words(*test.nearest),
        test.nearest->because, name_or(test.nearest->becomes, "no variant")));
  else
    result.push_back(
        fmt::format("No set of inputs within {} standard uncertainties of the middle was found at "
                    "which {} is not the answer.",
                    print_number(test.searched_to, 2), present));
  for (const Flip& flip : test.single)
    if (!test.nearest || test.nearest->inputs.size() != 1 ||
        flip.inputs.front().name != test.nearest->inputs.front().name)
      result.push_back(fmt::format(
          "Alone, {} overturns it: {} ({} standard uncertainties); then {}, and the choice is {}.",
          flip.inputs.front().name, inputs_in_words(flip), print_number(flip.distance, 2),
          flip.because, name_or(flip.becomes, "no variant")));
  if (found.alone > found.single.size())
    result.push_back(
        fmt::format("In all, {} inputs overturn it alone at one end of their range.", found.alone));
  if (found.refused > 0)
    result.push_back(fmt::format(
        "{} of the points tried have no answer: the model refuses the case there.", found.refused));
  return result;
}

}  // namespace

StressTest stress_test(const ChoiceRule& rule, const Trade& trade) {
  const Ensemble& ensemble = rule.ensemble();
  const Case& question = *ensemble.question;
  StressTest test;
  test.recommendation = trade.chosen;
  test.searched_to = flip_effort.farthest;
  const auto measured = [](const Duty& duty) { return !duty.trips.empty(); };
  if (std::ranges::any_of(question.duties, measured)) {
    test.remark = "Not searched: measured trips are not marched again for it.";
    test.sentences = {test.remark};
    return test;
  }

  // The rule chooses nobody where the trade keeps the present design for want of another.
  std::optional<std::size_t> recommended;
  for (std::size_t v = 0; v < question.variants.size(); ++v)
    if (question.variants[v].id == trade.chosen &&
        !(v == ensemble.baseline && rule.anything_required()))
      recommended = v;
  const bool keeps_present = trade.chosen == question.variants[ensemble.baseline].id;
  const auto named = [&](std::optional<std::size_t> choice) {
    if (choice) return question.variants[*choice].id;
    return keeps_present ? trade.chosen : std::string();
  };

  const InputSpace space(ensemble.draws->drawn());
  const Ways ways(rule, recommended);
  const Decision decision = [&](const std::vector<std::vector<double>>& points) {
    std::vector<Places> places;
    for (const auto& scores : points) places.push_back(space.at_scores(scores));
    const auto samples = samples_at(ensemble, places);
    std::vector<DecisionAt> result(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (!samples[i]) continue;
      DrawnVariants drawn;
      for (const VariantSample& sample : *samples[i]) drawn.push_back(&sample);
      result[i].choice = ChoiceRule::choice(rule.admissible(drawn));
      for (const Way& way : ways.all()) result[i].states.push_back(way.state(drawn));
    }
    return result;
  };
  const FlipSearch found = flip_search(decision, space.coordinates(), recommended, flip_effort);

  const auto flip = [&](const FoundFlip& at) {
    return Flip{ways.all()[at.way].words, named(at.becomes), at.distance,
                1.0 - share_of_score(at.distance), changed(space, at.scores)};
  };
  test.middle_differs = found.middle_differs;
  test.at_middle = named(found.at_middle);
  if (found.nearest) test.nearest = flip(*found.nearest);
  for (const FoundFlip& at : found.single) test.single.push_back(flip(at));
  test.evaluations = found.evaluations;
  if (ways.all().empty())
    test.remark = question.variants.size() < 2
                      ? "Not searched: there is no other variant."
                      : "Not searched: every other variant shortens the life of a bearing over the "
                        "whole of the draws, and such a one is never chosen.";
  test.sentences = sentences(test, found);
  return test;
}

}  // namespace ohmdrag::study

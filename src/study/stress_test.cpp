#include "study/stress_test.hpp"

#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "ohmdrag/numerics/sparse_polynomial.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "study/decisive_part.hpp"
#include "study/flip_search.hpp"
#include "study/input_space.hpp"
#include "study/moved_samples.hpp"
#include "study/sensitivity_effort.hpp"
#include "study/turning_ways.hpp"

namespace ohmdrag::study {
namespace {

/// The case as far as the search can see it, and its rule.
class Searched {
 public:
  /// \param recommended  in the whole case
  Searched(const ChoiceRule& whole, std::optional<std::size_t> recommended)
      : part_(part_of(whole, recommended)),
        ensemble_(ensemble_of_part(whole.ensemble(), part_, decisive_sections(part_),
                                   Draws(numbers_of(part_), 1, part_.seed, part_.correlations))),
        rule_(ensemble_, harms_of(whole, part_)) {
    if (recommended) recommended_ = place_of(whole.ensemble(), *recommended);
  }
  // The ensemble points into the part, the rule at the ensemble.
  Searched(const Searched&) = delete;
  Searched& operator=(const Searched&) = delete;

  const Case& question() const { return part_; }
  const Ensemble& ensemble() const { return ensemble_; }
  const ChoiceRule& rule() const { return rule_; }
  std::optional<std::size_t> recommended() const { return recommended_; }

 private:
  /// Variants that may be chosen nowhere are not evaluated; where the present design is
  /// recommended, all others are what the search is about.
  static Case part_of(const ChoiceRule& whole, std::optional<std::size_t> recommended) {
    const Ensemble& ensemble = whole.ensemble();
    const bool displaces = recommended && *recommended != ensemble.baseline;
    std::vector<bool> kept;
    for (std::size_t v = 0; v < ensemble.question->variants.size(); ++v)
      kept.push_back(v == ensemble.baseline || v == recommended ||
                     !(whole.harms(v) || (displaces && is_out_of_reach(ensemble, v))));
    return with_variants(decisive_part(*ensemble.question, HeadlinePoint::left_out), kept);
  }

  static std::vector<bool> harms_of(const ChoiceRule& whole, const Case& part) {
    std::vector<bool> harms;
    const auto& all = whole.ensemble().question->variants;
    for (const Variant& variant : part.variants)
      harms.push_back(whole.harms(static_cast<std::size_t>(
          std::ranges::find(all, variant.id, &Variant::id) - all.begin())));
    return harms;
  }

  std::size_t place_of(const Ensemble& whole, std::size_t v) const {
    return static_cast<std::size_t>(
        std::ranges::find(part_.variants, whole.question->variants[v].id, &Variant::id) -
        part_.variants.begin());
  }

  Case part_;
  Ensemble ensemble_;
  ChoiceRule rule_;
  std::optional<std::size_t> recommended_;
};

/// By coordinate of the searched part, whether the draws show it to move a way of turning; empty
/// where they are too few to tell, or depend on each other.
std::vector<bool> seen_to_move(const ChoiceRule& whole, std::optional<std::size_t> recommended,
                               const Searched& searched) {
  using numerics::SparsePolynomial;
  constexpr std::size_t enough = 512;
  const Ensemble& ensemble = whole.ensemble();
  const std::size_t draws = std::min(ensemble.samples.front().size(), enough);
  const std::vector<Draws::Input> inputs = searched.ensemble().draws->inputs();
  if (draws < SparsePolynomial::fewest_rows || !ensemble.draws->correlations().empty() ||
      inputs.empty())
    return {};
  std::vector<std::vector<double>> shares(inputs.size());
  std::vector<std::vector<std::size_t>> alone;
  for (std::size_t c = 0; c < inputs.size(); ++c) {
    alone.push_back({c});
    for (std::size_t i = 0; i < draws; ++i)
      shares[c].push_back(ensemble.draws->share(inputs[c], static_cast<int>(i)));
  }
  const numerics::PolynomialInputs coordinates(
      shares, std::vector(inputs.size(), numerics::InputScale::score));
  const Ways ways(whole, recommended);
  std::vector<numerics::SobolIndices> found(ways.all().size());
  oneapi::tbb::parallel_for(std::size_t{0}, found.size(), [&](std::size_t w) {
    std::vector<double> states;
    for (std::size_t i = 0; i < draws; ++i)
      states.push_back(ways.all()[w].state(drawn_variants(ensemble, i)));
    found[w] = SparsePolynomial(coordinates, states).indices(alone);
  });
  std::vector<bool> moves(inputs.size());
  for (const numerics::SobolIndices& indices : found)
    for (std::size_t c = 0; c < inputs.size(); ++c)
      moves[c] = moves[c] || indices.group[c].total > 0.0;
  // Where all draws lie far from any turn they do not tell what would move one.
  if (std::ranges::none_of(moves, std::identity{})) return {};
  return moves;
}

/// In the user's units, spread and scatter of each input put together; what is correlated with an
/// input that moves has moved too.
std::vector<ChangedInput> changed(const InputSpace& space, const std::vector<double>& scores) {
  std::vector<ChangedInput> result;
  const Places places = space.at_scores(scores);
  for (const InputAxis& axis : space.inputs()) {
    const UncertainNumber& number = *axis.number;
    const NumberPlace at = places.at(number.key);
    const double spread = score_of_share(at.spread), scatter = score_of_share(at.scatter);
    const double together = std::hypot(spread, scatter);
    if (!(together > 0.0)) continue;
    const double larger = std::abs(scatter) > std::abs(spread) ? scatter : spread;
    result.push_back({number.key, print_quantity(number.at(0.5, 0.5), number.dimension, 3),
                      print_quantity(number.at(at.spread, at.scatter), number.dimension, 3),
                      std::copysign(together, larger), number.basis});
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
  const Ensemble& whole = rule.ensemble();
  const auto& variants = whole.question->variants;
  StressTest test;
  test.recommendation = trade.chosen;
  test.searched_to = flip_effort.farthest;
  const auto measured = [](const Duty& duty) { return !duty.trips.empty(); };
  if (std::ranges::any_of(whole.question->duties, measured)) {
    test.remark = "Not searched: measured trips are not marched again for it.";
    test.sentences = {test.remark};
    return test;
  }

  // The rule chooses nobody where the trade keeps the present design for want of another.
  std::optional<std::size_t> recommended;
  for (std::size_t v = 0; v < variants.size(); ++v)
    if (variants[v].id == trade.chosen && !(v == whole.baseline && rule.anything_required()))
      recommended = v;
  const Searched searched(rule, recommended);
  const bool keeps_present = trade.chosen == variants[whole.baseline].id;
  const auto named = [&](std::optional<std::size_t> choice) {
    if (choice) return searched.question().variants[*choice].id;
    return keeps_present ? trade.chosen : std::string();
  };

  const InputSpace space(searched.ensemble().draws->drawn(),
                         searched.ensemble().draws->correlations());
  const Ways ways(searched.rule(), searched.recommended());
  const MovedSamples samples(searched.ensemble());
  const auto places_of = [&](const std::vector<std::vector<double>>& points) {
    std::vector<Places> places;
    for (const auto& scores : points) places.push_back(space.at_scores(scores));
    return places;
  };
  const DecisionsAt decision = [&](const std::vector<std::vector<double>>& points) {
    const auto moved = samples.at(places_of(points));
    std::vector<DecisionAt> result(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (!moved[i]) continue;
      const DrawnVariants& drawn = moved[i]->all;
      result[i].choice = ChoiceRule::choice(searched.rule().admissible(drawn));
      for (const Way& way : ways.all()) result[i].states.push_back(way.state(drawn));
    }
    return result;
  };
  const StatesAt state = [&](std::size_t way, const std::vector<std::vector<double>>& points) {
    const Way& asked = ways.all()[way];
    const auto moved = samples.at(places_of(points), asked.reads);
    std::vector<std::optional<double>> result(points.size());
    for (std::size_t i = 0; i < points.size(); ++i)
      if (moved[i]) result[i] = asked.state(moved[i]->all);
    return result;
  };
  const FlipSearch found = flip_search(decision, state, space.coordinates(), searched.recommended(),
                                       flip_effort, seen_to_move(rule, recommended, searched));

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
    test.remark = variants.size() < 2
                      ? "Not searched: there is no other variant."
                      : "Not searched: every other variant shortens the life of a bearing over the "
                        "whole of the draws, and such a one is never chosen.";
  test.sentences = sentences(test, found);
  return test;
}

}  // namespace ohmdrag::study

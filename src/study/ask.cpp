#include "ohmdrag/study/ask.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <stdexcept>
#include <tuple>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/ask_words.hpp"
#include "study/known_decisions.hpp"
#include "study/samples.hpp"
#include "study/sections.hpp"
#include "study/sensitivity_effort.hpp"

namespace ohmdrag::study {
namespace {

/// Gauss-Legendre on (0, 1), three points: exact up to the fifth power.
/// Source  M. Abramowitz, I. A. Stegun (eds.), Handbook of Mathematical Functions (1964), table
///         25.4, nodes ±0.774597 and weights 5/9, 8/9, brought to (0, 1).
const std::array<double, 3> point_u{0.5 - 0.5 * std::sqrt(0.6), 0.5, 0.5 + 0.5 * std::sqrt(0.6)};
constexpr std::array<double, 3> weight{5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};

/// Draws of all other numbers beside which a number stands at its ends.
constexpr int screening_draws = 3;

/// Rounding of a difference in which a number cancels.
constexpr double no_effect = 1e-9;

struct Screened {
  const UncertainNumber* number = nullptr;
  double effect = 0.0;  ///< widest move of what decides, as a share of its interval
};

std::vector<const UncertainNumber*> open_numbers(const Case& question, std::size_t& without) {
  std::vector<const UncertainNumber*> open;
  std::set<std::string> seen;
  for_each_number(question, [&](const UncertainNumber& number) {
    if (number.key.empty() || is_decision(number.key)) return;
    if (!rests_on_assumption(number.basis) && !number.unknown) return;
    if (!seen.insert(number.key).second) return;
    if (number.spread.shape == Shape::exact)
      ++without;
    else
      open.push_back(&number);
  });
  return open;
}

/// Interval width of everything that decides, over the draws; a tenth of a per cent of its size at
/// least, so that rounding is no effect.
std::vector<double> scales(const DecidingFigures& now) {
  std::vector<double> result;
  for (std::size_t q = 0; q < now.front().size(); ++q) {
    std::vector<double> values;
    double largest = 0.0;
    for (const auto& draw : now) {
      values.push_back(draw[q]);
      if (!std::isnan(draw[q])) largest = std::max(largest, std::abs(draw[q]));
    }
    const Interval interval = interval_of(std::move(values));
    const double width = interval.high - interval.low;
    result.push_back(std::max(std::isnan(width) ? 0.0 : width, 1e-3 * largest));
  }
  return result;
}

double effect_of(const DecidingFigures& low, const DecidingFigures& high,
                 const std::vector<double>& scale) {
  double widest = 0.0;
  for (std::size_t i = 0; i < low.size(); ++i)
    for (std::size_t q = 0; q < scale.size(); ++q) {
      const double a = low[i][q], b = high[i][q];
      if (std::isnan(a) && std::isnan(b)) continue;
      if (std::isnan(a) != std::isnan(b)) return 1.0;
      if (a != b) widest = std::max(widest, scale[q] > 0.0 ? std::abs(a - b) / scale[q] : 1.0);
    }
  return widest;
}

void add_turns(const Case& question, const Decision& now, const std::vector<Decision>& known,
               OpenQuestion& open) {
  for (std::size_t v = 0; v < question.variants.size(); ++v)
    for (std::size_t r = 0; r < question.requirements.size(); ++r) {
      double probability = 0.0;
      for (std::size_t k = 0; k < known.size(); ++k)
        if (known[k].missed[v][r] != now.missed[v][r]) probability += weight[k];
      if (probability > 0.0)
        open.turns.push_back({question.variants[v].id, question.requirements[r].id, probability});
    }
  std::ranges::stable_sort(open.turns, std::greater{}, &VerdictTurn::probability);
}

OpenQuestion question_of(const Case& question, const UncertainNumber& number, const Decision& now,
                         const std::vector<Decision>& known) {
  OpenQuestion open;
  open.key = number.key;
  const InUnit shown = in_engineering_unit(number.spread.interval(), number.dimension);
  open.value = print_interval(shown.value);
  open.unit = shown.unit;
  open.basis = number.basis;
  open.source = number.source;
  open.unknown = number.unknown;
  std::vector<std::vector<double>> utility;
  for (std::size_t k = 0; k < known.size(); ++k) {
    const double value = number.spread.quantile(point_u[k]);
    // The unit of the whole interval: that of one value might be another.
    const double scale = number.dimension == Dimension::temperature || shown.value.mid == 0.0
                             ? 1.0
                             : shown.value.mid / number.spread.interval().mid;
    const double offset = number.dimension == Dimension::temperature
                              ? shown.value.mid - number.spread.interval().mid
                              : 0.0;
    open.known.push_back({weight[k], value * scale + offset, known[k].chosen});
    if (known[k].chosen != now.chosen) open.choice_turns += weight[k];
    utility.push_back(known[k].right);
  }
  open.gain = value_of_knowing(weight, utility);
  add_turns(question, now, known, open);
  open.where = ask_words(number.key).where;
  open.text = question_text(open);
  open.consequence = question_consequence(open, now.chosen);
  return open;
}

}  // namespace

double OpenQuestion::probability() const {
  return std::max(choice_turns, turns.empty() ? 0.0 : turns.front().probability);
}

double value_of_knowing(std::span<const double> share,
                        const std::vector<std::vector<double>>& utility) {
  if (share.empty() || share.size() != utility.size() || utility.front().empty())
    throw std::invalid_argument("value of knowing: needs one row of utilities for every state");
  const std::size_t options = utility.front().size();
  std::vector<double> mean(options);
  double informed = 0.0;
  bool one_for_all = false;
  std::vector<bool> best_everywhere(options, true);
  for (std::size_t k = 0; k < share.size(); ++k) {
    if (utility[k].size() != options)
      throw std::invalid_argument("value of knowing: rows of utilities differ in length");
    const double best = *std::ranges::max_element(utility[k]);
    informed += share[k] * best;
    for (std::size_t o = 0; o < options; ++o) {
      mean[o] += share[k] * utility[k][o];
      best_everywhere[o] = best_everywhere[o] && utility[k][o] == best;
    }
  }
  for (const bool best : best_everywhere) one_for_all = one_for_all || best;
  // Rounding must not make a value of nothing.
  return one_for_all ? 0.0 : std::max(0.0, informed - *std::ranges::max_element(mean));
}

AskFindings ask(const Case& question, const AskOptions& options, const AskProgress& progress) {
  AskFindings result;
  result.title = question.title;
  result.baseline = question.baseline;
  result.invented = question.invented;
  result.seed = question.seed;
  result.samples =
      std::min(question.samples > 0 ? question.samples : default_samples, most_ask_samples);
  const auto open = open_numbers(question, result.without_spread);
  result.open = open.size();
  const std::size_t all = 2 * open.size() + point_u.size() * std::min(open.size(), options.closely);
  std::size_t done = 0;
  const auto tick = [&](std::size_t evaluated) {
    done += evaluated;
    if (progress) progress(done, all);
  };

  Case drawn = question;
  drawn.samples = result.samples;
  drawn.adaptive.reset();
  const KnownDecisions decisions(drawn);
  const Decision now = decisions.now();
  result.chosen = now.chosen;
  result.right = now.right_of_chosen(question);
  const std::vector<double> scale = scales(now.deciding);
  std::vector<Screened> screened;
  Case few = drawn;
  few.samples = screening_draws;
  const KnownDecisions few_decisions(few);
  for (const UncertainNumber* number : open) {
    const std::array ends{KnownNumber{number, point_u.front()},
                          KnownNumber{number, point_u.back()}};
    const auto figures = few_decisions.deciding_with(ends);
    screened.push_back({number, effect_of(figures.front(), figures.back(), scale)});
    tick(ends.size());
  }
  result.irrelevant = static_cast<std::size_t>(
      std::ranges::count_if(screened, [](const Screened& one) { return one.effect < no_effect; }));
  std::erase_if(screened, [](const Screened& one) { return one.effect < no_effect; });
  std::ranges::stable_sort(screened, std::greater{}, &Screened::effect);
  if (screened.size() > options.closely) {
    result.left_out = screened[options.closely].effect;
    screened.resize(options.closely);
  }
  result.closely = screened.size();

  for (const Screened& one : screened) {
    std::vector<KnownNumber> places;
    for (const double u : point_u) places.push_back({one.number, u});
    const std::vector<Decision> known = decisions.with(places);
    tick(places.size());
    OpenQuestion asked = question_of(question, *one.number, now, known);
    if (asked.gain > 0.0 || asked.probability() > 0.0) result.questions.push_back(std::move(asked));
  }
  const auto rank = [](const OpenQuestion& one) {
    return std::tuple(one.choice_turns, one.gain, one.probability());
  };
  std::ranges::stable_sort(result.questions, [&](const OpenQuestion& a, const OpenQuestion& b) {
    return rank(a) > rank(b);
  });
  result.cautions = cautions(question, Sections::all());
  return result;
}

}  // namespace ohmdrag::study

#include "study/first_order.hpp"

#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "ohmdrag/numerics/gum.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "study/decisive_part.hpp"
#include "study/headline_figures.hpp"
#include "study/moved_samples.hpp"

namespace ohmdrag::study {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
/// Of the standard uncertainty, where the case does not say.
constexpr int usual_digits = 1;

/// Place of an input on the scale on which its distribution is symmetric.
double place_of(const Distribution& distribution, double share) {
  const double value = distribution.quantile(share);
  return distribution.shape == Shape::log_normal ? std::log(value) : value;
}

/// Steps from the lower to the upper place, in standard uncertainties.
double step_of(const Draws& draws, const Draws::Input& moved, std::size_t input) {
  const Distribution& distribution = moved.scatter ? moved.number->scatter : moved.number->spread;
  const auto place = [&](std::size_t sample) {
    return place_of(distribution, draws.share(moved, static_cast<int>(sample)));
  };
  return (place(2 * input + 2) - place(2 * input + 1)) / distribution.standard_deviation();
}

/// Correlations of the inputs, row by row; empty where all are independent.
std::vector<double> matrix_of(std::span<const Correlation> correlations,
                              const std::vector<Draws::Input>& inputs) {
  if (correlations.empty()) return {};
  const std::size_t n = inputs.size();
  std::vector<double> matrix(n * n);
  for (std::size_t i = 0; i < n; ++i) matrix[i * n + i] = 1.0;
  for (const Correlation& correlation : correlations) {
    std::vector<std::size_t> places;
    for (const std::string& key : correlation.keys)
      places.push_back(static_cast<std::size_t>(
          std::ranges::find_if(inputs,
                               [&](const Draws::Input& input) {
                                 return input.number->key == key &&
                                        input.scatter == correlation.of_scatter;
                               }) -
          inputs.begin()));
    for (std::size_t i = 0; i < places.size(); ++i)
      for (std::size_t j = 0; j < places.size(); ++j)
        matrix[places[i] * n + places[j]] = correlation.matrix[i * places.size() + j];
  }
  return matrix;
}

/// +- of the end at a share of the sorted values, 95 %, by the ranks that it may as well have had.
double end_known_to(const std::vector<double>& sorted, double share) {
  const double n = double(sorted.size()), rank = share * (n - 1.0);
  const double off = normal_95 * std::sqrt(n * share * (1.0 - share));
  const double low = std::floor(rank - off), high = std::ceil(rank + off);
  if (low < 0.0 || high > n - 1.0) return infinity;
  const double from = sorted[static_cast<std::size_t>(low)];
  const double to = sorted[static_cast<std::size_t>(high)];
  return from == to ? 0.0 : 0.5 * (to - from);
}

/// No headline figure is one of the budget, and none counts hours.
Sections of_headlines(Sections sections) {
  sections.budget = false;
  sections.discharges_alone = true;
  return sections;
}

/// The first-order side of every figure, out of runs with one input moved at a time.
class FirstOrder {
 public:
  explicit FirstOrder(const Ensemble& ensemble)
      : question_(*ensemble.question),
        part_(headline_part(question_)),
        moved_(ensemble_of_part(ensemble, part_, of_headlines(ensemble.sections),
                                Draws::one_at_a_time(numbers_of(question_)))),
        inputs_(moved_.draws->inputs()),
        matrix_(matrix_of(ensemble.draws->correlations(), inputs_)) {
    take_moved();
    steps_.resize(inputs_.size());
    oneapi::tbb::parallel_for(std::size_t{0}, inputs_.size(), [&](std::size_t i) {
      steps_[i] = step_of(*moved_.draws, inputs_[i], i);
    });
    figures_ = headlines_of_draws(moved_);
  }

  // The ensemble points into the part.
  FirstOrder(const FirstOrder&) = delete;
  FirstOrder& operator=(const FirstOrder&) = delete;

  std::optional<FirstOrderRow> row_of(const HeadlineOfDraw& drawn) const {
    const auto found = std::ranges::find_if(figures_, [&](const HeadlineOfDraw& figure) {
      return figure.variant == drawn.variant && figure.figure == drawn.figure;
    });
    if (found == figures_.end()) return std::nullopt;
    FirstOrderRow row;
    row.variant = question_.variants[drawn.variant].id;
    row.figure = drawn.figure;
    row.unit = drawn.unit;
    row.estimate = found->values.front();
    row.ensemble = interval_of(drawn.values);
    std::vector<double> sorted = drawn.values;
    std::ranges::sort(sorted);
    row.ends_known_to = std::max(end_known_to(sorted, 0.025), end_known_to(sorted, 0.975));
    if (const std::string why = infinite(*found, row.ensemble); !why.empty()) {
      row.verdict = FirstOrderRow::Verdict::not_valid;
      row.because = why;
      row.standard_uncertainty = row.tolerance = row.low_difference = row.high_difference =
          not_a_figure;
      row.first_order = {not_a_figure, row.estimate, not_a_figure};
      return row;
    }
    settle(*found, row);
    return row;
  }

 private:
  void take_moved() {
    const MovedSamples samples(moved_);
    const auto runs = static_cast<std::size_t>(moved_.draws->samples());
    for (std::size_t v = 0; v < question_.variants.size(); ++v) moved_.samples.emplace_back(runs);
    oneapi::tbb::parallel_for(std::size_t{0}, runs, [&](std::size_t run) {
      std::vector<std::string> moved;
      if (run > 0) moved.push_back(inputs_[(run - 1) / 2].number->key);
      const MovedVariants here = samples.in(Draw(*moved_.draws, static_cast<int>(run)), moved);
      for (std::size_t v = 0; v < here.all.size(); ++v) moved_.samples[v][run] = *here.all[v];
    });
  }

  std::string infinite(const HeadlineOfDraw& figure, const Interval& ensemble) const {
    const auto place =
        std::ranges::find_if(figure.values, [](double value) { return !std::isfinite(value); });
    if (place == figure.values.begin()) return "it is infinite at the medians";
    if (place != figure.values.end()) {
      const auto i = static_cast<std::size_t>(place - figure.values.begin() - 1) / 2;
      return fmt::format("it is infinite with {} off by one standard uncertainty", name_of(i));
    }
    return std::isfinite(ensemble.low) && std::isfinite(ensemble.high)
               ? std::string()
               : "the ensemble's interval has an infinite end";
  }

  void settle(const HeadlineOfDraw& figure, FirstOrderRow& row) const {
    numerics::GumResult gum{.estimate = row.estimate, .uncertainty = 0.0};
    double sharpest = 0.0;
    std::size_t bent = 0;
    for (std::size_t i = 0; i < inputs_.size(); ++i) {
      const double low = figure.values[2 * i + 1], high = figure.values[2 * i + 2];
      gum.contribution.push_back(steps_[i] > 0.0 ? (high - low) / steps_[i] : 0.0);
      const double bend = std::abs(high + low - 2.0 * row.estimate);
      if (bend > sharpest) {
        sharpest = bend;
        bent = i;
      }
    }
    gum.uncertainty = std::sqrt(std::max(0.0, numerics::covariance(gum, gum, matrix_)));
    row.standard_uncertainty = gum.uncertainty;
    row.first_order = {row.estimate - normal_95 * gum.uncertainty, row.estimate,
                       row.estimate + normal_95 * gum.uncertainty};
    const int digits = question_.adaptive ? question_.adaptive->digits : usual_digits;
    const numerics::Agreement agreement =
        numerics::agreement(gum, normal_95, {row.ensemble.low, row.ensemble.high}, digits);
    row.tolerance = agreement.tolerance;
    row.low_difference = agreement.low_difference;
    row.high_difference = agreement.high_difference;
    const double worse = std::max(row.low_difference, row.high_difference);
    using enum FirstOrderRow::Verdict;
    if (worse + row.ends_known_to <= row.tolerance) {
      row.verdict = valid;
    } else if (worse - row.ends_known_to > row.tolerance) {
      row.verdict = not_valid;
      row.because = sharpest > row.tolerance
                        ? fmt::format("it bends over the uncertainty of {}", name_of(bent))
                        : "many inputs bend it together, or its distribution is not normal";
    } else {
      row.verdict = not_settled;
      row.because = std::isinf(row.ends_known_to)
                        ? "too few samples to know the ensemble's own ends"
                        : fmt::format("the ensemble's own ends are known to ± {} only",
                                      print_number(row.ends_known_to, 2));
    }
  }

  std::string name_of(std::size_t input) const {
    return inputs_[input].number->key + (inputs_[input].scatter ? " (part to part)" : "");
  }

  const Case& question_;
  Case part_;
  Ensemble moved_;  ///< of the part
  std::vector<Draws::Input> inputs_;
  std::vector<double> matrix_;
  std::vector<double> steps_;
  std::vector<HeadlineOfDraw> figures_;
};

}  // namespace

std::vector<FirstOrderRow> first_order(const Ensemble& ensemble) {
  const FirstOrder first(ensemble);
  const std::vector<HeadlineOfDraw> drawn = headlines_of_draws(ensemble);
  std::vector<std::optional<FirstOrderRow>> found(drawn.size());
  oneapi::tbb::parallel_for(std::size_t{0}, drawn.size(),
                            [&](std::size_t i) { found[i] = first.row_of(drawn[i]); });
  std::vector<FirstOrderRow> rows;
  for (auto& row : found)
    if (row) rows.push_back(std::move(*row));
  return rows;
}

std::string no_first_order(const Ensemble& ensemble) {
  const Case& question = *ensemble.question;
  if (question.first_order)
    return *question.first_order ? std::string() : "the case turns it off (study.first_order)";
  const std::size_t runs = 2 * ensemble.draws->inputs().size() + 1;
  if (static_cast<std::size_t>(ensemble.draws->samples()) >= runs) return {};
  return fmt::format(
      "it takes {} runs, more than the {} samples of the ensemble, whose ends would be too rough "
      "to "
      "hold it against; study.first_order = true asks for it",
      runs, ensemble.draws->samples());
}

}  // namespace ohmdrag::study

#include "ohmdrag/rig/sweep_fit.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/numerics/akaike.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "rig/sweep_problem.hpp"
#include "rig/sweep_told.hpp"

namespace ohmdrag::rig {

namespace {

using Complex = std::complex<double>;
using numerics::LeastSquaresFit;
using numerics::Loss;

/// Relative residuals below this are rounding of the log and tell no model from another.
constexpr double log_rounding = 1e-8;
/// More points than this share far off are no outliers but the rule.
constexpr double most_outliers = 0.2;
/// A model that misses by this much, root mean square over |Z|, is none.
constexpr double refused_rms = 0.3;
/// Misses that follow each other so closely, and are so large, are said aloud.
constexpr double close_residuals = 0.5, large_rms = 0.002;

struct Candidate {
  SweepModel model;
  LeastSquaresFit squares, robust;
  bool fitted = false;
};

Candidate candidate_of(const Sweep& sweep, SweepModel model) {
  Candidate out{model, {}, {}};
  const SweepProblem problem(sweep, model);
  if (2 * sweep.size() <= problem.parameters() + 2) return out;
  out.squares = problem.from_scratch();
  if (!out.squares.converged) return out;
  out.robust = problem.from(out.squares.parameter, Loss::huber);
  if (!out.robust.converged) out.robust = out.squares;
  out.fitted = true;
  return out;
}

std::vector<std::size_t> points_far_off(const LeastSquaresFit& fit) {
  std::vector<std::size_t> points;
  for (const std::size_t datum : fit.outliers)
    if (std::abs(fit.residual[datum]) > log_rounding &&
        (points.empty() || points.back() != datum / 2))
      points.push_back(datum / 2);
  const auto most = most_outliers * static_cast<double>(fit.residual.size()) / 2.0;
  if (static_cast<double>(points.size()) > most) points.clear();
  return points;
}

std::vector<std::size_t> all_but(std::size_t count, const std::vector<std::size_t>& left_out) {
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < count; ++i)
    if (!std::ranges::binary_search(left_out, i)) kept.push_back(i);
  return kept;
}

/// Whether a model has all parts of another.
bool holds(SweepModel larger, SweepModel smaller) {
  const auto more = parts_of(larger);
  return std::ranges::all_of(parts_of(smaller), [&](CircuitPart part) {
    return std::ranges::find(more, part) != more.end();
  });
}

/// The models side by side.
class Comparison {
 public:
  Comparison(const Sweep& sweep, const std::vector<SweepModel>& models) : sweep_(sweep) {
    for (const SweepModel model : models) candidates_.push_back(candidate_of(sweep, model));
    rank();
  }

  const Candidate& chosen() const { return candidates_[chosen_]; }
  const std::vector<ModelRank>& ranks() const { return ranks_; }

  std::vector<std::string> warnings() const {
    std::vector<std::string> out;
    const ModelRank& taken = ranks_[chosen_];
    for (std::size_t m = 0; m < ranks_.size(); ++m) {
      if (m == chosen_ || !ranks_[m].fitted || ranks_[m].aicc_over_best > not_told_apart) continue;
      // A model with a part more is never much worse: the part may be nothing.
      if (holds(ranks_[m].model, taken.model) && ranks_[m].aicc_over_best >= taken.aicc_over_best)
        continue;
      out.push_back(fmt::format(
          "The sweep does not tell {} from {} (AICc {} against {} over the best); the simpler one "
          "was taken.",
          in_words(taken.model), in_words(ranks_[m].model), print_number(taken.aicc_over_best, 2),
          print_number(ranks_[m].aicc_over_best, 2)));
    }
    return out;
  }

 private:
  void rank() {
    const std::vector<std::size_t> kept = all_but(sweep_.size(), far_off_of_all());
    double best = 0.0;
    bool any = false;
    for (const Candidate& candidate : candidates_) {
      const SweepProblem problem(sweep_, candidate.model);
      ModelRank rank{
          .model = candidate.model, .parameters = problem.parameters(), .fitted = candidate.fitted};
      if (candidate.fitted) {
        const LeastSquaresFit fit =
            kept.size() == sweep_.size()
                ? candidate.squares
                : problem.from(candidate.robust.parameter, Loss::squares, kept);
        const auto n = 2.0 * static_cast<double>(kept.size());
        const double k = static_cast<double>(problem.parameters()) + 1.0;
        const double mean = std::max(fit.sum_of_squares / n, log_rounding * log_rounding);
        rank.residual_rms = std::sqrt(fit.sum_of_squares / n);
        rank.aicc_over_best = n * std::log(mean) + 2.0 * k + 2.0 * k * (k + 1.0) / (n - k - 1.0);
        best = any ? std::min(best, rank.aicc_over_best) : rank.aicc_over_best;
        any = true;
      }
      ranks_.push_back(rank);
    }
    if (!any)
      throw std::invalid_argument(
          "no search finds an end: the impedance is not that of a contact with an inductance, a "
          "film or a capacitance across it");
    weigh(best);
  }

  void weigh(double best) {
    std::vector<double> criteria;
    for (ModelRank& rank : ranks_)
      if (rank.fitted) criteria.push_back(rank.aicc_over_best -= best);
    const std::vector<double> weights = numerics::akaike_weights(criteria);
    auto weight = weights.begin();
    for (ModelRank& rank : ranks_)
      if (rank.fitted) rank.weight = *weight++;
    bool taken = false;
    for (std::size_t m = 0; m < ranks_.size(); ++m) {
      if (!ranks_[m].fitted || ranks_[m].aicc_over_best > not_told_apart) continue;
      if (!taken || ranks_[m].parameters < ranks_[chosen_].parameters ||
          (ranks_[m].parameters == ranks_[chosen_].parameters &&
           ranks_[m].aicc_over_best < ranks_[chosen_].aicc_over_best))
        chosen_ = m;
      taken = true;
    }
  }

  /// Points that the model with the least scatter misses by far.
  std::vector<std::size_t> far_off_of_all() const {
    const Candidate* steadiest = nullptr;
    constexpr double clearly = 0.95;
    for (const Candidate& candidate : candidates_)
      if (candidate.fitted &&
          (!steadiest || candidate.robust.deviation < clearly * steadiest->robust.deviation))
        steadiest = &candidate;
    return steadiest ? points_far_off(steadiest->robust) : std::vector<std::size_t>{};
  }

  const Sweep& sweep_;
  std::vector<Candidate> candidates_;
  std::vector<ModelRank> ranks_;
  std::size_t chosen_ = 0;
};

/// Correlation of the residuals of neighbours along the frequency.
double lag_one_of(const Sweep& sweep, const std::vector<Complex>& residual) {
  std::vector<std::size_t> order(sweep.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return sweep[i].frequency; });
  double along = 0.0, squares = 0.0;
  for (std::size_t k = 0; k < order.size(); ++k) {
    squares += std::norm(residual[order[k]]);
    if (k + 1 < order.size())
      along += std::real(residual[order[k]] * std::conj(residual[order[k + 1]]));
  }
  return squares > 0.0 ? along / squares : 0.0;
}

void add_warnings(const Sweep& sweep, SweepFit& fit) {
  if (fit.residual_rms > refused_rms)
    throw std::invalid_argument(fmt::format(
        "the nearest model, {}, misses the impedance by {} % (root mean square): it is not that of "
        "a contact with an inductance, a film or a capacitance across it",
        in_words(fit.model), print_number(100.0 * fit.residual_rms, 2)));
  if (!fit.outliers.empty()) {
    constexpr std::size_t most_named = 4;
    std::vector<std::string> where;
    for (const std::size_t i : fit.outliers)
      if (where.size() < most_named)
        where.push_back(print_quantity(sweep[i].frequency.value(), Dimension::frequency, 3));
    fit.warnings.push_back(
        fmt::format("Points far off: {} (at {}{}). They count less and are not left out; a loose "
                    "clip and a change of range look so.",
                    fit.outliers.size(), fmt::join(where, ", "),
                    fit.outliers.size() > most_named ? ", …" : ""));
  }
  if (fit.lag_one > close_residuals && fit.residual_rms > large_rms)
    fit.warnings.push_back(fmt::format(
        "The residuals follow each other along the frequency ({}): the model has not the shape of "
        "this impedance, {} % off in the mean. The intervals are wider for it; many unequal "
        "contacts flatten the phase so. Give the table itself to the case.",
        print_number(fit.lag_one, 2), print_number(100.0 * fit.residual_rms, 2)));
}

SweepFit fitted(const Sweep& sweep, const std::vector<SweepModel>& models) {
  require_plausible(sweep);
  const Comparison comparison(sweep, models);
  const LeastSquaresFit& best = comparison.chosen().robust;
  const SweepProblem problem(sweep, comparison.chosen().model);

  SweepFit fit;
  fit.model = comparison.chosen().model;
  fit.ranks = comparison.ranks();
  fit.warnings = comparison.warnings();
  for (std::size_t i = 0; i < sweep.size(); ++i)
    fit.residual.emplace_back(best.residual[2 * i], best.residual[2 * i + 1]);
  fit.outliers = points_far_off(best);
  const auto n = 2.0 * static_cast<double>(sweep.size());
  fit.residual_rms = std::sqrt(best.sum_of_squares / n);
  fit.lag_one = lag_one_of(sweep, fit.residual);
  constexpr double chance = 2.0, nearly_one = 0.98;  // 95 % of the correlations of white noise
  if (const double r = std::min(fit.lag_one, nearly_one); r > chance / std::sqrt(n))
    fit.widening = std::sqrt((1.0 + r) / (1.0 - r));

  FittedCircuit circuit{problem.parts(), problem.sizes(best.parameter), best.covariance,
                        numerics::student_95(static_cast<double>(best.degrees_of_freedom))};
  for (double& entry : circuit.covariance) entry *= fit.widening * fit.widening;
  fit.path = path_of(circuit.sizes);
  add_warnings(sweep, fit);
  tell_parts(sweep, circuit, fit);
  return fit;
}

}  // namespace

std::string_view in_words(SweepModel model) {
  switch (model) {
    case SweepModel::resistance:
      return "R";
    case SweepModel::with_inductance:
      return "R + jwL";
    case SweepModel::beside_capacitance:
      return "R beside C";
    case SweepModel::inductance_beside_capacitance:
      return "(R + jwL) beside C";
    case SweepModel::with_film:
      return "R + film (R_f beside C_f)";
    case SweepModel::inductance_with_film:
      break;
  }
  return "R + jwL + film (R_f beside C_f)";
}

SweepFit fit_sweep(const Sweep& sweep) {
  std::vector<SweepModel> models;
  for (std::size_t m = 0; m < sweep_models; ++m) models.push_back(static_cast<SweepModel>(m));
  return fitted(sweep, models);
}

SweepFit fit_sweep(const Sweep& sweep, SweepModel most) {
  std::vector<SweepModel> models;
  for (std::size_t m = 0; m < sweep_models; ++m)
    if (holds(most, static_cast<SweepModel>(m))) models.push_back(static_cast<SweepModel>(m));
  return fitted(sweep, models);
}

}  // namespace ohmdrag::rig

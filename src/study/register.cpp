#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <map>
#include <numeric>
#include <set>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/headline_models.hpp"
#include "study/sensitivity_effort.hpp"
#include "study/sensitivity_section.hpp"

namespace ohmdrag::study {
namespace {

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

/// What each input moves most, out of all figures: its total index, or where it has none of its own
/// its share of the screen's variance.
class Register {
 public:
  explicit Register(std::vector<Assumption>& rows) {
    for (Assumption& row : rows) rows_.emplace(row.name, &row);
  }

  void take(const std::string& figure, const VarianceMoves& moved,
            std::span<const MovingInput> inputs) {
    std::map<std::string, double> shares;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      double share = moved.screened[i];
      for (const InputMoves& row : moved.moves.inputs)
        if (row.name == inputs[i].name) share = row.total.value;
      for (const std::string& key : inputs[i].keys) shares[key] = share;
    }
    for (const auto& [name, share] : shares) {
      const auto row = rows_.find(name);
      if (row == rows_.end()) continue;
      if (row->second->moves_figure.empty() || share > row->second->moves_share) {
        row->second->moves_figure = figure;
        row->second->moves_share = share;
      }
    }
  }

 private:
  std::map<std::string, Assumption*> rows_;
};

const MovesEffort& effort_of(HeadlineModel::Costs costs) {
  switch (costs) {
    case HeadlineModel::Costs::watts:
      return effort_of_watts;
    case HeadlineModel::Costs::voltage:
      return effort_of_voltage;
    case HeadlineModel::Costs::duties:
      break;
  }
  return effort_over_duties;
}

/// Numbers one by one; those that are correlated with each other together, for only such a group
/// is independent of the rest.
std::vector<MovingInput> moving_inputs(const InputSpace& space) {
  const auto& axes = space.inputs();
  std::vector<std::size_t> together(axes.size());
  std::iota(together.begin(), together.end(), std::size_t{0});
  for (const std::vector<std::size_t>& group : space.correlated())
    for (const std::size_t i : group) {
      const std::size_t from = together[i], to = together[group.front()];
      std::ranges::replace(together, std::max(from, to), std::min(from, to));
    }
  std::vector<MovingInput> inputs;
  for (std::size_t i = 0; i < axes.size(); ++i) {
    if (together[i] != i) continue;
    MovingInput input{axes[i].number->key, axes[i].number->basis, {}, {}};
    for (std::size_t j = i; j < axes.size(); ++j) {
      if (together[j] != i) continue;
      const UncertainNumber& number = *axes[j].number;
      if (j != i) input.name += ", " + number.key;
      input.basis = weakest(input.basis, number.basis);
      input.coordinates.insert(input.coordinates.end(), axes[j].coordinates.begin(),
                               axes[j].coordinates.end());
      input.keys.push_back(number.key);
    }
    inputs.push_back(std::move(input));
  }
  return inputs;
}

/// Runs over the duties would cost more than the study.
bool too_dear(const HeadlineModel& model, const Draws& draws) {
  return model.costs == HeadlineModel::Costs::duties && draws.samples() < least_draws_over_duties;
}

/// In the order of InputSpace's coordinates.
numerics::PolynomialInputs drawn_coordinates(const Draws& draws) {
  std::vector<std::vector<double>> shares;
  std::vector<numerics::InputScale> scales;
  const int rows =
      std::min(draws.samples(), static_cast<int>(numerics::PolynomialEffort{}.most_rows));
  for (const Draws::Input& input : draws.inputs()) {
    const Distribution& distribution = input.scatter ? input.number->scatter : input.number->spread;
    scales.push_back(distribution.shape == Shape::uniform ? numerics::InputScale::share
                                                          : numerics::InputScale::score);
    std::vector<double>& of_input = shares.emplace_back();
    for (int i = 0; i < rows; ++i) of_input.push_back(draws.share(input, i));
  }
  return {shares, scales};
}

/// The schema and the reader want a share of a whole; an estimate a little beyond it is the whole.
double as_share(const FigureMoves& figure) {
  return figure.assumed ? std::clamp(figure.assumed->value, 0.0, 1.0) : 0.0;
}

}  // namespace

void fill_register(const Ensemble& ensemble, Findings& findings) {
  std::set<std::string> seen;
  for_each_number(*ensemble.question, [&](const UncertainNumber& number) {
    if (!number.key.empty() && seen.insert(number.key).second)
      findings.assumptions.push_back(row_of(number));
  });
}

void rank_register(const Ensemble& ensemble, Findings& findings) {
  const InputSpace space(ensemble.draws->drawn(), ensemble.draws->correlations());
  const std::vector<MovingInput> inputs = moving_inputs(space);
  const numerics::PolynomialInputs drawn = drawn_coordinates(*ensemble.draws);
  const std::vector<HeadlineModel> models = headline_models(ensemble, *findings.trade);
  std::vector<std::optional<VarianceMoves>> moved(models.size());
  oneapi::tbb::parallel_for(std::size_t{0}, models.size(), [&](std::size_t m) {
    const MovesEffort& effort = effort_of(models[m].costs);
    // Indices by draws ask for independent ones.
    const bool independent = ensemble.draws->correlations().empty();
    if (independent) moved[m] = moves_of_draws(drawn, models[m].drawn, inputs, effort);
    if (moved[m] || too_dear(models[m], *ensemble.draws)) return;
    const FigureOfShares figure = [&](std::span<const double> shares) {
      const std::array places{space.at_shares(shares)};
      const Draws stated(ensemble.draws->drawn(), places);
      return models[m].at(Draw(stated, 0));
    };
    const auto seen =
        independent ? seen_in_draws(drawn, models[m].drawn, inputs) : std::vector<double>{};
    moved[m] = variance_moves(figure, space.coordinates(), inputs, effort, seen);
  });
  Register ranked(findings.assumptions);
  for (std::size_t m = 0; m < models.size(); ++m) {
    if (moved[m]) ranked.take(models[m].figure, *moved[m], inputs);
    FigureMoves row = moved[m] ? std::move(moved[m]->moves) : FigureMoves{};
    row.figure = models[m].figure;
    row.unit = models[m].unit;
    if (!moved[m])
      row.remark = fmt::format(
          "the draws do not tell its indices, and runs over the duties are made from {} draws on",
          least_draws_over_duties);
    findings.sensitivity->figures.push_back(std::move(row));
  }
  const auto headline = [&](const char* begin, std::string& name, double& share) {
    const auto& figures = findings.sensitivity->figures;
    const auto found = std::ranges::find_if(
        figures, [&](const FigureMoves& figure) { return figure.figure.starts_with(begin); });
    if (found == figures.end()) return;
    name = found->figure;
    share = as_share(*found);
  };
  headline("net W", findings.headline, findings.assumed_share);
  headline("discharge dose", findings.headline_of_benefit, findings.assumed_share_of_benefit);
  std::ranges::stable_sort(findings.assumptions, std::greater{}, &Assumption::moves_share);
}

}  // namespace ohmdrag::study

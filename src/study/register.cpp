#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
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

  void take(const FigureMoves& figure, std::span<const MovingInput> inputs,
            const std::vector<double>& screened) {
    std::map<std::string, double> shares;
    for (std::size_t i = 0; i < inputs.size(); ++i) shares[inputs[i].name] = screened[i];
    for (const InputMoves& input : figure.inputs)
      if (input.inputs == 1 && shares.contains(input.name)) shares[input.name] = input.total.value;
    for (const auto& [name, share] : shares) {
      const auto row = rows_.find(name);
      if (row == rows_.end()) continue;
      if (row->second->moves_figure.empty() || share > row->second->moves_share) {
        row->second->moves_figure = figure.figure;
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
  const InputSpace space(ensemble.draws->drawn());
  std::vector<MovingInput> inputs;
  for (const InputAxis& axis : space.inputs())
    inputs.push_back({axis.number->key, axis.number->basis, axis.coordinates});
  Register ranked(findings.assumptions);
  for (const HeadlineModel& model : headline_models(ensemble, *findings.trade)) {
    const FigureOfShares figure = [&](std::span<const double> shares) {
      const std::array places{space.at_shares(shares)};
      const Draws stated(ensemble.draws->drawn(), places);
      return model.at(Draw(stated, 0));
    };
    if (model.costs == HeadlineModel::Costs::duties &&
        ensemble.draws->samples() < least_draws_over_duties) {
      FigureMoves& left_out = findings.sensitivity->figures.emplace_back();
      left_out.figure = model.figure;
      left_out.unit = model.unit;
      left_out.remark = fmt::format("indices over the duties are computed from {} draws on",
                                    least_draws_over_duties);
      continue;
    }
    VarianceMoves moved =
        variance_moves(figure, space.coordinates(), inputs, effort_of(model.costs));
    moved.moves.figure = model.figure;
    moved.moves.unit = model.unit;
    ranked.take(moved.moves, inputs, moved.screened);
    findings.sensitivity->figures.push_back(std::move(moved.moves));
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

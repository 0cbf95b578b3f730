#include "rig/friction_choice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/numerics/akaike.hpp"
#include "ohmdrag/rig/friction_fit.hpp"

namespace ohmdrag::rig {

namespace {

/// Fewer speeds tell no course over speed.
constexpr std::size_t fewest_speeds = 3;
/// Of data without noise; keeps the logarithm finite.
constexpr double least_mean_square = 1e-28;

/// As numerics::LeastSquaresFit::aicc, finite for residuals that are rounding.
std::optional<double> aicc_of(const numerics::LeastSquaresFit& fit) {
  if (!fit.aicc) return std::nullopt;
  const auto n = static_cast<double>(fit.residual.size());
  const double mean_square = fit.sum_of_squares / n;
  if (mean_square >= least_mean_square) return fit.aicc;
  const double k = static_cast<double>(fit.parameter.size()) + 1.0;
  return n * std::log(least_mean_square) + 2.0 * k + 2.0 * k * (k + 1.0) / (n - k - 1.0);
}

std::vector<TriedForm> try_all(const FrictionProblem& problem,
                               const std::vector<FrictionForm>& forms, const Nuisance& nuisance,
                               std::vector<std::string>* notes) {
  std::vector<TriedForm> tried;
  for (const FrictionForm& form : forms) {
    if (form.parameters.size() > 1 && problem.distinct_speeds() < fewest_speeds) continue;
    // Two more readings than constants and their deviation: else AICc is not defined.
    if (problem.data().size() < problem.columns(form, nuisance).count + 3) {
      if (notes)
        notes->push_back(fmt::format("Not compared: {}, for too few readings.", form.title));
      continue;
    }
    TriedForm one{&form, problem.fit(form, nuisance, numerics::Loss::squares), 0.0, 0.0, 0.0};
    const auto aicc = aicc_of(one.fit);
    const bool untold = std::ranges::any_of(
        one.fit.untold, [&](std::size_t j) { return j < form.parameters.size(); });
    if (!aicc || untold || !one.fit.converged) {
      if (notes)
        notes->push_back(
            fmt::format("Not compared: {}. The speeds of the run do not tell it.", form.title));
      continue;
    }
    one.aicc = *aicc;
    tried.push_back(std::move(one));
  }
  return tried;
}

void weigh(std::vector<TriedForm>& tried) {
  std::vector<double> criteria;
  for (const TriedForm& one : tried) criteria.push_back(one.aicc);
  const double least = *std::ranges::min_element(criteria);
  const std::vector<double> weights = numerics::akaike_weights(criteria);
  for (std::size_t i = 0; i < tried.size(); ++i) {
    tried[i].above_least = criteria[i] - least;
    tried[i].weight = weights[i];
  }
}

void doubt_by_tare(const FrictionProblem& problem, const Nuisance& nuisance, FormChoice& choice) {
  const auto criterion = [&](const FrictionProblem& of, const TriedForm& one) {
    return aicc_of(of.fit(*one.form, nuisance, numerics::Loss::squares));
  };
  std::vector<double> squares(choice.tried.size(), 0.0);
  const auto& errors = problem.tare_errors_Nm();
  for (std::size_t knot = 0; knot < errors.size(); ++knot) {
    if (!(errors[knot] > 0.0) || choice.tried.size() < 2) continue;
    const FrictionProblem moved = problem.with_tare(knot, errors[knot]);
    const TriedForm& chosen = choice.tried[choice.chosen];
    const auto of_chosen = criterion(moved, chosen);
    for (std::size_t i = 0; i < choice.tried.size(); ++i) {
      const TriedForm& one = choice.tried[i];
      if (const auto now = criterion(moved, one); now && of_chosen)
        squares[i] += std::pow(*now - *of_chosen - (one.aicc - chosen.aicc), 2);
    }
  }
  for (std::size_t i = 0; i < squares.size(); ++i) choice.tried[i].doubt = std::sqrt(squares[i]);
}

const TriedForm& best_of(const std::vector<TriedForm>& tried) {
  return *std::ranges::min_element(tried, {}, &TriedForm::aicc);
}

bool tells_all(const TriedForm& one) {
  for (std::size_t j = 0; j < one.form->parameters.size(); ++j)
    if (!tells(one.fit, j)) return false;
  return true;
}

/// The first, if the run tells all of it; the simpler form in its place, unless that fits worse.
std::size_t chosen_of(const std::vector<TriedForm>& tried, const std::string& law) {
  std::size_t chosen = 0;
  while (chosen < tried.size() && tried[chosen].form->law != law) ++chosen;
  if (chosen == tried.size())
    throw std::invalid_argument(
        "the readings tell no form of the named law: take more of them, over more speeds");
  if (tells_all(tried[chosen])) return chosen;
  const std::size_t simpler = chosen + 1;
  if (simpler < tried.size() && tried[simpler].form->law == law &&
      tried[simpler].form->parameters.size() < tried[chosen].form->parameters.size() &&
      tried[simpler].aicc <= tried[chosen].aicc + alike)
    return simpler;
  return chosen;
}

/// What Huber's fit lists, unless it is rounding.
std::vector<std::size_t> far_off(const FrictionProblem& problem, const FrictionForm& form,
                                 const Nuisance& nuisance) {
  constexpr double rounding = 1e-6;
  const auto fit = problem.fit(form, nuisance, numerics::Loss::huber);
  std::vector<std::size_t> listed = fit.outliers;
  std::erase_if(listed, [&](std::size_t i) {
    const FrictionDatum& datum = problem.data()[i];
    return std::abs(fit.residual[i]) * datum.error_Nm <= rounding * std::abs(datum.torque_Nm);
  });
  return listed;
}

}  // namespace

bool tells(const numerics::LeastSquaresFit& fit, std::size_t parameter) {
  return fit.half_width(parameter) <= friction_told_within * std::abs(fit.parameter[parameter]);
}

FormChoice choose_form(const FrictionProblem& problem, const std::vector<FrictionForm>& forms,
                       const Nuisance& nuisance, std::vector<std::string>& notes) {
  const std::string& law = forms.front().law;
  if (law != "constant" && problem.distinct_speeds() < fewest_speeds)
    throw std::invalid_argument(
        fmt::format("the run holds {} speeds; a law over speed needs {} or more, far apart",
                    problem.distinct_speeds(), fewest_speeds));
  FormChoice choice;
  choice.tried = try_all(problem, forms, nuisance, &notes);
  if (!choice.tried.empty()) {
    choice.far_off = far_off(problem, *best_of(choice.tried).form, nuisance);
    if (!choice.far_off.empty()) {
      const FrictionProblem clean = problem.without(choice.far_off);
      auto without = try_all(clean, forms, nuisance, nullptr);
      if (!without.empty()) choice.tried = std::move(without);
    }
  }
  choice.chosen = chosen_of(choice.tried, law);
  weigh(choice.tried);
  doubt_by_tare(problem.without(choice.far_off), nuisance, choice);
  return choice;
}

}  // namespace ohmdrag::rig

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "rig/friction_problem.hpp"

namespace ohmdrag::rig {

namespace {

/// Of a run-in, to start the search.
constexpr double usual_rise = 0.3, most_rise = 10.0, early_share = 0.05, late_share = 0.3;

}  // namespace

FrictionProblem::Columns FrictionProblem::columns(const FrictionForm& form,
                                                  const Nuisance& nuisance) const {
  Columns at{};
  at.levels = form.parameters.size();
  at.sweeps = at.levels + specimens_.size() - 1;
  at.run_in = at.sweeps + (nuisance.sweeps ? 1 : 0);
  at.count = at.run_in + (nuisance.run_in ? 2 : 0);
  return at;
}

double FrictionProblem::level(std::size_t specimen, std::size_t specimens, std::size_t first_column,
                              std::span<const double> at, std::span<double> slopes) {
  if (specimen + 1 < specimens) {
    slopes[first_column + specimen] = 1.0;
    return at[first_column + specimen];
  }
  double last = static_cast<double>(specimens);  // the mean is one
  for (std::size_t i = 0; i + 1 < specimens; ++i) {
    last -= at[first_column + i];
    slopes[first_column + i] = -1.0;
  }
  return last;
}

void FrictionProblem::evaluate(const FrictionForm& form, const Columns& at,
                               std::span<const double> parameters, std::span<double> residuals,
                               std::span<double> slopes) const {
  const std::size_t constants = form.parameters.size();
  std::vector<double> of_law(constants), of_level(at.count), of_one(at.count);
  for (std::size_t i = 0; i < data_.size(); ++i) {
    const FrictionDatum& datum = data_[i];
    const double friction = form.friction(parameters.first(constants), datum.state, of_law);
    double mean_level = 0.0;
    std::ranges::fill(of_level, 0.0);
    for (const auto& [specimen, share] : datum.levels) {
      std::ranges::fill(of_one, 0.0);
      mean_level += share * level(specimen, specimens_.size(), at.levels, parameters, of_one);
      for (std::size_t j = 0; j < at.count; ++j) of_level[j] += share * of_one[j];
    }
    double sweeps = 1.0, run_in = 1.0;
    if (at.run_in > at.sweeps) sweeps += parameters[at.sweeps] * datum.sweep;
    double decay = 0.0;
    if (at.count > at.run_in) {
      decay = std::exp(-datum.time_s / parameters[at.run_in + 1]);
      run_in += parameters[at.run_in] * decay;
    }
    const double unit = datum.unit_torque_Nm / datum.error_Nm;
    residuals[i] =
        datum.torque_Nm / datum.error_Nm - friction * unit * mean_level * sweeps * run_in;
    const auto row = slopes.subspan(i * at.count, at.count);
    for (std::size_t j = 0; j < at.count; ++j)
      row[j] = -friction * unit * of_level[j] * sweeps * run_in;
    for (std::size_t j = 0; j < constants; ++j)
      row[j] = -of_law[j] * unit * mean_level * sweeps * run_in;
    if (at.run_in > at.sweeps)
      row[at.sweeps] = -friction * unit * mean_level * run_in * datum.sweep;
    if (at.count > at.run_in) {
      const double time = parameters[at.run_in + 1];
      row[at.run_in] = -friction * unit * mean_level * sweeps * decay;
      row[at.run_in + 1] = row[at.run_in] * parameters[at.run_in] * datum.time_s / (time * time);
    }
  }
}

numerics::LeastSquaresFit FrictionProblem::fit(const FrictionForm& form, const Nuisance& nuisance,
                                               numerics::Loss loss) const {
  const Columns at = columns(form, nuisance);
  if (data_.size() <= at.count)
    throw std::invalid_argument(
        fmt::format("{} readings tell no {} constants", data_.size(), at.count));
  std::vector<numerics::FitParameter> start;
  std::size_t tries = 1;
  for (const FormParameter& parameter : form.parameters) {
    start.push_back({parameter.starts.front(), 0.0, parameter.high});
    tries = std::max(tries, parameter.starts.size());
  }
  for (std::size_t i = 1; i < specimens_.size(); ++i)
    start.push_back({1.0, 0.0, static_cast<double>(specimens_.size())});
  if (nuisance.sweeps) start.push_back({0.0});
  double last_s = 0.0;
  for (const FrictionDatum& datum : data_) last_s = std::max(last_s, datum.time_s);
  if (nuisance.run_in) {
    start.push_back({usual_rise, 0.0, most_rise});
    start.push_back({late_share * last_s, 0.0, 10.0 * last_s});
  }
  const auto residuals = [&](std::span<const double> parameters, std::span<double> r,
                             std::span<double> slopes) {
    evaluate(form, at, parameters, r, slopes);
  };
  numerics::LeastSquaresFit best;
  for (std::size_t k = 0; k < tries * (nuisance.run_in ? 2 : 1); ++k) {
    for (std::size_t j = 0; j < form.parameters.size(); ++j) {
      const auto& starts = form.parameters[j].starts;
      start[j].start = starts[std::min(k % tries, starts.size() - 1)];
    }
    if (k >= tries) start[at.run_in + 1].start = early_share * last_s;
    auto found = numerics::least_squares(residuals, data_.size(), start);
    if (best.parameter.empty() || found.sum_of_squares < best.sum_of_squares)
      best = std::move(found);
  }
  if (loss == numerics::Loss::squares) return best;
  for (std::size_t j = 0; j < start.size(); ++j)  // one that ran into its bound starts anew
    if (best.parameter[j] > start[j].low && best.parameter[j] < start[j].high)
      start[j].start = best.parameter[j];
  return numerics::least_squares(residuals, data_.size(), start, {.loss = loss});
}

}  // namespace ohmdrag::rig

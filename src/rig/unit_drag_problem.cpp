#include "rig/unit_drag_problem.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ohmdrag::rig {

namespace {

/// A variance that small beside the largest is rounding.
constexpr double no_variance = 1e-12;

/// A root of a covariance with as many columns as it has rank: Cholesky's, the largest variance
/// that is left first. Row by row.
std::vector<double> root_of(const std::vector<double>& covariance, std::size_t n,
                            std::size_t& rank) {
  std::vector<std::vector<double>> columns;
  std::vector<double> left(n);
  for (std::size_t i = 0; i < n; ++i) left[i] = covariance[i * n + i];
  const double largest = n == 0 ? 0.0 : *std::ranges::max_element(left);
  for (;;) {
    const auto pivot = static_cast<std::size_t>(std::ranges::max_element(left) - left.begin());
    if (columns.size() == n || !(left[pivot] > no_variance * largest)) break;
    const double scale = std::sqrt(left[pivot]);
    std::vector<double> column(n);
    for (std::size_t i = 0; i < n; ++i) {
      double rest = covariance[i * n + pivot];
      for (const auto& before : columns) rest -= before[i] * before[pivot];
      column[i] = rest / scale;
      left[i] = i == pivot ? 0.0 : std::max(0.0, left[i] - column[i] * column[i]);
    }
    columns.push_back(std::move(column));
  }
  rank = columns.size();
  std::vector<double> root(n * rank);
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < rank; ++j) root[i * rank + j] = columns[j][i];
  return root;
}

}  // namespace

UnitDragProblem::UnitDragProblem(const UnitDragRun& run)
    : run_(run), root_(root_of(run.prior.covariance, run.prior.mean.size(), modes_)) {
  double logs = 0.0;
  for (const UnitDragPoint& point : run.points) {
    logs += std::log(point.speed.value());
    reference_K_ += point.oil.value();
    typical_Nm_ += point.measured.value();
  }
  const auto n = static_cast<double>(run.points.size());
  reference_rad_s_ = std::exp(logs / n);
  reference_K_ /= n;
  typical_Nm_ /= n;
}

double UnitDragProblem::belief(std::span<const double> at, std::size_t index) const {
  double value = run_.prior.mean[index];
  for (std::size_t j = 0; j < modes_; ++j) value += root_[index * modes_ + j] * at[j];
  return value;
}

std::vector<double> UnitDragProblem::belief_slopes(std::size_t index) const {
  std::vector<double> slopes(parameters());
  for (std::size_t j = 0; j < modes_; ++j) slopes[j] = root_[index * modes_ + j];
  return slopes;
}

double UnitDragProblem::part_Nm(std::span<const double> at, std::size_t part, std::size_t point,
                                double weight, std::span<double> slopes) const {
  const UnitDragPoint& at_point = run_.points[point];
  const std::array<double, beliefs_a_part> x{1.0,
                                             std::log(at_point.speed.value() / reference_rad_s_),
                                             at_point.oil.value() - reference_K_};
  double exponent = 0.0;
  for (std::size_t b = 0; b < x.size(); ++b)
    exponent += x[b] * belief(at, beliefs_a_part * part + b);
  const double torque_Nm = std::exp(exponent) * at_point.model[part].value();
  for (std::size_t j = 0; j < modes_; ++j)
    for (std::size_t b = 0; b < x.size(); ++b)
      slopes[j] += weight * torque_Nm * x[b] * root_[(beliefs_a_part * part + b) * modes_ + j];
  return torque_Nm;
}

double UnitDragProblem::misfit_Nm(std::span<const double> at, std::size_t point,
                                  std::span<double> slopes) const {
  std::ranges::fill(slopes, 0.0);
  const double scale = 1.0 + calibration(at);
  double sum_Nm = rest_Nm(at);
  for (std::size_t p = 0; p < run_.parts.size(); ++p)
    if (run_.fitted[run_.points[point].build][p]) sum_Nm += part_Nm(at, p, point, -scale, slopes);
  slopes[rest()] = -scale * typical_Nm_;
  if (calibrated()) slopes[rest() + 1] = -sum_Nm * run_.calibration;
  return run_.points[point].measured.value() - scale * sum_Nm;
}

}  // namespace ohmdrag::rig

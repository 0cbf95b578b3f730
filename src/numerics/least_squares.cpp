#include "ohmdrag/numerics/least_squares.hpp"

#include <Eigen/SVD>
#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <stdexcept>

#include "numerics/fit_search.hpp"

namespace ohmdrag::numerics {

namespace {

constexpr double huber_knee = 1.345, tukey_end = 4.685;  // 95 % efficiency for normal residuals
constexpr double normal_quartile = 0.674489750196081743;
constexpr int most_reweightings = 200;
/// From this turn on the scale stays: with a scale that moves along, the weights may run in
/// circles.
constexpr int last_scale = 20;
/// Reweighting ends when no parameter moves by more than this share of its standard error.
constexpr double least_move = 1e-5;
/// A direction of the scaled parameters with a smaller singular value, over the largest, changes
/// nothing.
constexpr double least_singular = 1e-11;
/// A parameter with a larger part in such a direction is not told.
constexpr double least_part = 1e-4;

/// psi(u), and its derivative, of the influence of a residual u in scales.
struct Influence {
  double psi = 0.0;
  double slope = 0.0;
};
Influence influence(Loss loss, double u) {
  if (loss == Loss::huber)
    return std::abs(u) <= huber_knee ? Influence{u, 1.0}
                                     : Influence{std::copysign(huber_knee, u), 0.0};
  if (loss == Loss::tukey) {
    if (std::abs(u) >= tukey_end) return {};
    const double v = u * u / (tukey_end * tukey_end);
    return {u * (1.0 - v) * (1.0 - v), (1.0 - v) * (1.0 - 5.0 * v)};
  }
  return {u, 1.0};
}

/// Median absolute deviation from zero, as the deviation of a normal distribution.
double robust_scale(const Eigen::VectorXd& residual) {
  std::vector<double> sizes(static_cast<std::size_t>(residual.size()));
  for (std::size_t i = 0; i < sizes.size(); ++i)
    sizes[i] = std::abs(residual[static_cast<Eigen::Index>(i)]);
  const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
  std::nth_element(sizes.begin(), middle, sizes.end());
  return *middle / normal_quartile;
}

/// (J^T J)^-1 without what J does not tell.
struct Inverse {
  Eigen::MatrixXd matrix;
  std::vector<std::size_t> untold;
};
Inverse inverse_of(const Slopes& slopes) {
  Eigen::VectorXd norms = slopes.colwise().norm().transpose();
  for (double& norm : norms)
    if (!(norm > 0.0)) norm = 1.0;
  const Eigen::MatrixXd scaled = slopes * norms.cwiseInverse().asDiagonal();
  const Eigen::Index n = scaled.cols();
  const Eigen::MatrixXd triangle =
      scaled.householderQr().matrixQR().topRows(n).triangularView<Eigen::Upper>();
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(triangle, Eigen::ComputeFullV);
  const Eigen::VectorXd& singular = svd.singularValues();
  Inverse result{Eigen::MatrixXd::Zero(n, n), {}};
  std::vector<bool> told(static_cast<std::size_t>(n), true);
  for (Eigen::Index k = 0; k < n; ++k) {
    const Eigen::VectorXd direction = svd.matrixV().col(k);
    if (singular[k] > least_singular * singular[0]) {
      const Eigen::VectorXd shift = direction.cwiseQuotient(norms) / singular[k];
      result.matrix += shift * shift.transpose();
      continue;
    }
    for (Eigen::Index j = 0; j < n; ++j)
      if (std::abs(direction[j]) > least_part) told[static_cast<std::size_t>(j)] = false;
  }
  for (std::size_t j = 0; j < told.size(); ++j)
    if (!told[j]) result.untold.push_back(j);
  return result;
}

/// What stands in place of s^2 beside (J^T J)^-1.
double variance_of(Loss loss, const Eigen::VectorXd& residual, double scale, double degrees,
                   double parameters) {
  if (loss == Loss::squares) return residual.squaredNorm() / degrees;
  if (!(scale > 0.0)) return 0.0;
  const auto n = static_cast<double>(residual.size());
  double psi_squares = 0.0, slope_mean = 0.0, slope_squares = 0.0;
  for (const double r : residual) {
    const Influence at = influence(loss, r / scale);
    psi_squares += at.psi * at.psi;
    slope_mean += at.slope / n;
    slope_squares += at.slope * at.slope / n;
  }
  const double spread = slope_squares - slope_mean * slope_mean;
  const double correction = 1.0 + parameters / n * spread / (slope_mean * slope_mean);
  return correction * correction * scale * scale * psi_squares / degrees /
         (slope_mean * slope_mean);
}

/// Reweighted searches until the weights stand.
Search reweighted(const ResidualFunction& residuals, std::span<const FitParameter> parameters,
                  Search from, const FitOptions& options, Loss loss) {
  Eigen::VectorXd weights(from.end.residual.size());
  from.converged = false;
  double scale = 0.0;
  for (int turn = 0; turn < most_reweightings; ++turn) {
    if (turn <= last_scale) scale = robust_scale(from.end.residual);
    if (!(scale > 0.0)) {  // more than half of the data lie on the model
      from.converged = true;
      return from;
    }
    for (Eigen::Index i = 0; i < weights.size(); ++i) {
      const double u = from.end.residual[i] / scale;
      weights[i] = u != 0.0 ? influence(loss, u).psi / u : 1.0;
    }
    Search next =
        search(residuals, parameters, from.end.parameter, weights, options.most_steps - from.steps);
    const Eigen::VectorXd moved = next.end.slopes * (next.end.parameter - from.end.parameter);
    next.steps += from.steps;
    from = std::move(next);
    if (!from.converged) return from;
    if (moved.norm() <= least_move * scale) return from;
    from.converged = false;
  }
  return from;
}

void require_sound(std::size_t data, std::span<const FitParameter> parameters) {
  if (parameters.empty() || data <= parameters.size())
    throw std::invalid_argument("fit: a fit has parameters and more data than these");
  for (const FitParameter& p : parameters)
    if (!(p.low < p.start && p.start < p.high))
      throw std::invalid_argument("fit: a start must lie between its bounds");
}

}  // namespace

double LeastSquaresFit::standard_error(std::size_t j) const {
  return std::sqrt(covariance[j * parameter.size() + j]);
}

double LeastSquaresFit::correlation(std::size_t i, std::size_t j) const {
  return covariance[i * parameter.size() + j] / (standard_error(i) * standard_error(j));
}

double LeastSquaresFit::half_width(std::size_t j) const {
  return student_95(static_cast<double>(degrees_of_freedom)) * standard_error(j);
}

double student_95(double degrees_of_freedom) {
  if (!(degrees_of_freedom > 0.0))
    throw std::invalid_argument("Student's t: degrees of freedom must be positive");
  return boost::math::quantile(boost::math::students_t(degrees_of_freedom), 0.975);
}

LeastSquaresFit least_squares(const ResidualFunction& residuals, std::size_t data,
                              std::span<const FitParameter> parameters, const FitOptions& options) {
  require_sound(data, parameters);
  const auto n = static_cast<Eigen::Index>(parameters.size());
  Eigen::VectorXd start(n);
  for (Eigen::Index j = 0; j < n; ++j) start[j] = parameters[static_cast<std::size_t>(j)].start;
  const Eigen::VectorXd equal = Eigen::VectorXd::Ones(static_cast<Eigen::Index>(data));
  Search found = search(residuals, parameters, start, equal, options.most_steps);
  if (options.loss != Loss::squares)
    found = reweighted(residuals, parameters, std::move(found), options, Loss::huber);
  if (options.loss == Loss::tukey)
    found = reweighted(residuals, parameters, std::move(found), options, Loss::tukey);

  const Eigen::VectorXd& r = found.end.residual;
  LeastSquaresFit fit;
  fit.converged = found.converged;
  fit.steps = found.steps;
  fit.parameter.assign(found.end.parameter.begin(), found.end.parameter.end());
  fit.residual.assign(r.begin(), r.end());
  fit.sum_of_squares = r.squaredNorm();
  fit.degrees_of_freedom = data - parameters.size();
  const auto degrees = static_cast<double>(fit.degrees_of_freedom);
  const double scale = robust_scale(r);
  fit.deviation = options.loss == Loss::squares ? std::sqrt(fit.sum_of_squares / degrees) : scale;
  for (std::size_t i = 0; i < data; ++i)
    if (scale > 0.0 && std::abs(fit.residual[i]) > outlier_in_scales * scale)
      fit.outliers.push_back(i);

  Inverse inverse = inverse_of(found.end.slopes);
  inverse.matrix *= variance_of(options.loss, r, scale, degrees, static_cast<double>(n));
  fit.untold = std::move(inverse.untold);
  for (const std::size_t j : fit.untold) {
    const auto at = static_cast<Eigen::Index>(j);
    inverse.matrix(at, at) = std::numeric_limits<double>::infinity();
  }
  for (Eigen::Index i = 0; i < n; ++i)
    for (Eigen::Index j = 0; j < n; ++j) fit.covariance.push_back(inverse.matrix(i, j));

  const double k = static_cast<double>(n) + 1.0;  // with the deviation
  const auto count = static_cast<double>(data);
  if (options.loss == Loss::squares && count - k - 1.0 > 0.0)
    fit.aicc = count * std::log(fit.sum_of_squares / count) + 2.0 * k +
               2.0 * k * (k + 1.0) / (count - k - 1.0);
  return fit;
}

}  // namespace ohmdrag::numerics

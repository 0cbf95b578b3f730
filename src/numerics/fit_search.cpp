#include "numerics/fit_search.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

namespace ohmdrag::numerics {

namespace {

/// At rest: the share of the residuals within reach of the parameters is smaller than this.
constexpr double least_offset = 1e-11;
/// The same where no step lowers the sum any more, which then is rounding.
constexpr double least_offset_of_rounding = 1e-5;
/// Residuals below this share of what the parameters are worth are rounding of the model.
constexpr double least_residual = 1e-15;
/// A reduction of the sum below this share cannot be seen.
constexpr double least_promise = 1e-17;
/// Columns whose part outside of the others is smaller than this share are no columns of their own.
constexpr double least_pivot = 1e-11;
/// First damping over the squares of the column norms.
constexpr double first_damping = 1e-3;
/// Share of a step at which its bend is measured, and the largest bend over its length that is
/// followed.
constexpr double look_ahead = 0.1, most_bend = 0.375;

/// A parameter as the search sees it, without bounds.
struct Freed {
  double low, high;

  double out_of(double p) const {
    const bool above = std::isfinite(low), below = std::isfinite(high);
    if (above && below) return std::log((p - low) / (high - p));
    if (above) return std::log(p - low);
    if (below) return -std::log(high - p);
    return p;
  }
  double into(double x) const {
    const bool above = std::isfinite(low), below = std::isfinite(high);
    if (above && below) return low + (high - low) / (1.0 + std::exp(-x));
    if (above) return low + std::exp(x);
    if (below) return high - std::exp(-x);
    return x;
  }
  /// dp/dx at p.
  double slope(double p) const {
    const bool above = std::isfinite(low), below = std::isfinite(high);
    if (above && below) return (p - low) * (high - p) / (high - low);
    if (above) return p - low;
    if (below) return high - p;
    return 1.0;
  }
};

class Problem {
 public:
  Problem(const ResidualFunction& residuals, std::span<const FitParameter> parameters,
          const Eigen::VectorXd& weights)
      : residuals_(residuals), root_weights_(weights.cwiseSqrt()) {
    for (const FitParameter& p : parameters) freed_.push_back({p.low, p.high});
  }

  Eigen::VectorXd out_of(const Eigen::VectorXd& parameter) const {
    Eigen::VectorXd x(parameter.size());
    for (Eigen::Index j = 0; j < x.size(); ++j) x[j] = freed(j).out_of(parameter[j]);
    return x;
  }
  Evaluation at(const Eigen::VectorXd& x) const {
    Evaluation e{x, Eigen::VectorXd(root_weights_.size()), Slopes(root_weights_.size(), x.size())};
    for (Eigen::Index j = 0; j < x.size(); ++j) e.parameter[j] = freed(j).into(x[j]);
    const auto span_of = [](auto& m) {
      return std::span(m.data(), static_cast<std::size_t>(m.size()));
    };
    residuals_(span_of(e.parameter), span_of(e.residual), span_of(e.slopes));
    return e;
  }
  Eigen::VectorXd weighted(const Evaluation& e) const {
    return root_weights_.cwiseProduct(e.residual);
  }
  Eigen::MatrixXd weighted_slopes(const Evaluation& e) const {
    Eigen::MatrixXd slopes = root_weights_.asDiagonal() * e.slopes;
    for (Eigen::Index j = 0; j < slopes.cols(); ++j)
      slopes.col(j) *= freed(j).slope(e.parameter[j]);
    return slopes;
  }

 private:
  const Freed& freed(Eigen::Index j) const { return freed_[static_cast<std::size_t>(j)]; }

  const ResidualFunction& residuals_;
  Eigen::VectorXd root_weights_;
  std::vector<Freed> freed_;
};

/// The slopes J at one place, factorised: |J d + r| = |rows d + reach(r)| but for what no d
/// reaches.
class Factors {
 public:
  explicit Factors(const Eigen::MatrixXd& slopes) : norms_(slopes.colwise().norm().transpose()) {
    for (double& norm : norms_)
      if (!(norm > 0.0)) norm = 1.0;
    factors_.setThreshold(least_pivot);
    factors_.compute(slopes * norms_.cwiseInverse().asDiagonal());
    const Eigen::MatrixXd upper =
        factors_.matrixR().topRows(factors_.rank()).template triangularView<Eigen::Upper>();
    rows_ = upper * factors_.colsPermutation().transpose() * norms_.asDiagonal();
  }

  const Eigen::VectorXd& norms() const { return norms_; }  ///< of the columns, one for an empty one
  /// Residuals as far as the parameters reach them.
  Eigen::VectorXd reach(const Eigen::VectorXd& r) const {
    return (factors_.householderQ().transpose() * r).head(rows_.rows());
  }
  /// Step that makes |rows d + reach|^2 + damping |norms d|^2 least.
  Eigen::VectorXd step(const Eigen::VectorXd& reach, double damping) const {
    Eigen::MatrixXd stacked(rows_.rows() + rows_.cols(), rows_.cols());
    stacked << rows_, Eigen::MatrixXd((std::sqrt(damping) * norms_).asDiagonal());
    Eigen::VectorXd right = Eigen::VectorXd::Zero(stacked.rows());
    right.head(reach.size()) = -reach;
    return stacked.householderQr().solve(right);
  }
  double promised_by(const Eigen::VectorXd& step, const Eigen::VectorXd& reach) const {
    return reach.squaredNorm() - (rows_ * step + reach).squaredNorm();
  }

 private:
  Eigen::VectorXd norms_;
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> factors_;
  Eigen::MatrixXd rows_;  ///< as many as the rank
};

}  // namespace

Search search(const ResidualFunction& residuals, std::span<const FitParameter> parameters,
              const Eigen::VectorXd& from, const Eigen::VectorXd& weights, int most_steps) {
  const Problem problem(residuals, parameters, weights);
  Eigen::VectorXd x = problem.out_of(from);
  Search result{.end = problem.at(x)};
  Eigen::VectorXd r = problem.weighted(result.end);
  double sum = r.squaredNorm();
  if (!std::isfinite(sum) || !result.end.slopes.allFinite())
    throw std::invalid_argument("fit: a residual at the start is not finite");

  Eigen::MatrixXd slopes = problem.weighted_slopes(result.end);
  Factors factors(slopes);
  Eigen::VectorXd reach = factors.reach(r);
  double damping = first_damping, growth = 2.0;
  const auto offset_below = [&](double share) { return reach.norm() <= share * std::sqrt(sum); };
  while (result.steps < most_steps) {
    result.converged = offset_below(least_offset) ||
                       std::sqrt(sum) <= least_residual * factors.norms().cwiseProduct(x).norm();
    if (result.converged) return result;
    ++result.steps;
    Eigen::VectorXd step = factors.step(reach, damping);
    const double promised = factors.promised_by(step, reach);
    // Second derivative of the residuals along the step; the path bends as it says.
    const Eigen::VectorXd ahead = problem.weighted(problem.at(x + look_ahead * step));
    const Eigen::VectorXd bend = 2.0 / look_ahead * ((ahead - r) / look_ahead - slopes * step);
    const Eigen::VectorXd curve = 0.5 * factors.step(factors.reach(bend), damping);
    const auto size = [&](const Eigen::VectorXd& d) {
      return factors.norms().cwiseProduct(d).norm();
    };
    if (size(curve) <= most_bend * size(step)) step += curve;  // never true of a NaN

    Evaluation tried = problem.at(x + step);
    const Eigen::VectorXd tried_r = problem.weighted(tried);
    const double tried_sum = tried_r.squaredNorm();
    const double gain = (sum - tried_sum) / promised;
    if (!(std::isfinite(tried_sum) && tried.slopes.allFinite() && gain > 0.0)) {
      result.converged = offset_below(least_offset_of_rounding);
      if (result.converged || promised <= least_promise * sum) return result;
      damping *= growth;
      growth *= 2.0;
      continue;
    }
    x += step;
    r = tried_r;
    sum = tried_sum;
    result.end = std::move(tried);
    slopes = problem.weighted_slopes(result.end);
    factors = Factors(slopes);
    reach = factors.reach(r);
    damping *= std::max(1.0 / 3.0, 1.0 - std::pow(2.0 * gain - 1.0, 3.0));
    growth = 2.0;
  }
  return result;
}

}  // namespace ohmdrag::numerics

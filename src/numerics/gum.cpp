#include "ohmdrag/numerics/gum.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/numerics/joint_normal.hpp"
#include "ohmdrag/numerics/monte_carlo.hpp"
#include "ohmdrag/quantity/distribution.hpp"

namespace ohmdrag::numerics {

namespace {

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

/// The model with inputs moved by multiples of their standard uncertainty.
class Moved {
 public:
  Moved(const ModelOfInputs& model, std::span<const GumInput> inputs)
      : model_(model), inputs_(inputs) {
    require(!inputs.empty(), "propagation of uncertainty: a model needs inputs");
    for (const GumInput& input : inputs) {
      require(input.uncertainty >= 0.0 && std::isfinite(input.uncertainty),
              "propagation of uncertainty: a standard uncertainty is finite and not negative");
      require(input.degrees_of_freedom > 0.0,
              "propagation of uncertainty: degrees of freedom are positive");
      at_.push_back(input.estimate);
    }
  }

  std::size_t size() const { return inputs_.size(); }

  double at_estimates() { return finite(model_(at_)); }
  double with(std::size_t i, double steps) { return with(i, steps, i, steps); }
  double with(std::size_t i, double steps_i, std::size_t j, double steps_j) {
    at_[i] = inputs_[i].estimate + steps_i * inputs_[i].uncertainty;
    at_[j] = inputs_[j].estimate + steps_j * inputs_[j].uncertainty;
    const double result = finite(model_(at_));
    at_[i] = inputs_[i].estimate;
    at_[j] = inputs_[j].estimate;
    return result;
  }

 private:
  static double finite(double result) {
    require(std::isfinite(result), "propagation of uncertainty: a result is not finite");
    return result;
  }

  const ModelOfInputs& model_;
  std::span<const GumInput> inputs_;
  std::vector<double> at_;
};

std::vector<double> contributions(Moved& model) {
  constexpr double h = 1.0 / 64.0;
  std::vector<double> slopes(model.size());
  for (std::size_t i = 0; i < slopes.size(); ++i)
    slopes[i] = (8.0 * (model.with(i, h) - model.with(i, -h)) -
                 (model.with(i, 2.0 * h) - model.with(i, -2.0 * h))) /
                (12.0 * h);
  return slopes;
}

double correlation_of(std::span<const double> matrix, std::size_t inputs, std::size_t i,
                      std::size_t j) {
  if (matrix.empty()) return i == j ? 1.0 : 0.0;
  return matrix[i * inputs + j];
}

}  // namespace

double covariance(const GumResult& a, const GumResult& b, std::span<const double> correlation) {
  const std::size_t n = a.contribution.size();
  require(n == b.contribution.size() && (correlation.empty() || correlation.size() == n * n),
          "covariance: both results and the correlations have the same inputs");
  double sum = 0.0;
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j)
      sum += a.contribution[i] * b.contribution[j] * correlation_of(correlation, n, i, j);
  return sum;
}

GumResult first_order(const ModelOfInputs& model, std::span<const GumInput> inputs,
                      std::span<const double> correlation) {
  Moved moved(model, inputs);
  const std::size_t n = inputs.size();
  if (!correlation.empty())
    require(JointNormal(correlation).inputs() == n,
            "propagation of uncertainty: the correlations are not those of the inputs");
  GumResult result;
  result.estimate = moved.at_estimates();
  result.contribution = contributions(moved);
  // Rounding may leave a variance of nothing a little below zero.
  const double variance = std::max(0.0, covariance(result, result, correlation));
  result.uncertainty = std::sqrt(variance);

  double sum = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    if (std::isinf(inputs[i].degrees_of_freedom)) continue;
    for (std::size_t j = 0; j < n; ++j)
      if (j != i && correlation_of(correlation, n, i, j) != 0.0) return result;
    sum += std::pow(result.contribution[i], 4) / inputs[i].degrees_of_freedom;
  }
  result.degrees_of_freedom =
      sum > 0.0 ? variance * variance / sum : std::numeric_limits<double>::infinity();
  return result;
}

double second_order_uncertainty(const ModelOfInputs& model, std::span<const GumInput> inputs) {
  Moved moved(model, inputs);
  constexpr double h = 0.25;
  const double middle = moved.at_estimates();
  const std::vector<double> slope = contributions(moved);
  double variance = 0.0;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    variance += slope[i] * slope[i];
    for (std::size_t j = 0; j < inputs.size(); ++j) {
      // f_ij and f_ijj, in standard uncertainties of both.
      double mixed = 0.0, third = 0.0;
      if (i == j) {
        mixed = (moved.with(i, h) - 2.0 * middle + moved.with(i, -h)) / (h * h);
        third = (moved.with(i, 2.0 * h) - 2.0 * moved.with(i, h) + 2.0 * moved.with(i, -h) -
                 moved.with(i, -2.0 * h)) /
                (2.0 * h * h * h);
      } else {
        const double up_up = moved.with(i, h, j, h), up_down = moved.with(i, h, j, -h);
        const double down_up = moved.with(i, -h, j, h), down_down = moved.with(i, -h, j, -h);
        mixed = (up_up - up_down - down_up + down_down) / (4.0 * h * h);
        third = (up_up - 2.0 * moved.with(i, h) + up_down - down_up + 2.0 * moved.with(i, -h) -
                 down_down) /
                (2.0 * h * h * h);
      }
      variance += 0.5 * mixed * mixed + slope[i] * third;
    }
  }
  require(variance >= 0.0, "propagation of uncertainty: the second order leaves no variance");
  return std::sqrt(variance);
}

double coverage_factor(double coverage, double degrees_of_freedom) {
  require(coverage > 0.0 && coverage < 1.0, "coverage factor: the coverage lies between 0 and 1");
  require(degrees_of_freedom > 0.0, "coverage factor: degrees of freedom are positive");
  const double share = 0.5 + 0.5 * coverage;
  if (std::isinf(degrees_of_freedom)) return normal_quantile(share);
  const double degrees =
      degrees_of_freedom > 1.0 ? std::floor(degrees_of_freedom) : degrees_of_freedom;
  return boost::math::quantile(boost::math::students_t(degrees), share);
}

Agreement agreement(const GumResult& gum, double factor, const CoverageInterval& monte_carlo,
                    int significant_digits) {
  require(factor > 0.0, "agreement of intervals: the coverage factor is positive");
  const double half = factor * gum.uncertainty;
  return {numerical_tolerance(gum.uncertainty, significant_digits),
          std::abs(gum.estimate - half - monte_carlo.low),
          std::abs(gum.estimate + half - monte_carlo.high)};
}

}  // namespace ohmdrag::numerics

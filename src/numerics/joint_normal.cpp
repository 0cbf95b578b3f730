#include "ohmdrag/numerics/joint_normal.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/quantity/distribution.hpp"

namespace ohmdrag::numerics {

namespace {

/// Coefficients out of data or a certificate are rounded; what this takes from a variance of one
/// nobody sees.
constexpr double rounding = 1e-10;

void check(std::span<const double> matrix, std::size_t inputs) {
  if (inputs == 0 || inputs * inputs != matrix.size())
    throw std::invalid_argument("correlations: the matrix is not square");
  for (std::size_t i = 0; i < inputs; ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      const double r = matrix[i * inputs + j];
      if (i == j && !(std::abs(r - 1.0) <= rounding))
        throw std::invalid_argument(fmt::format(
            "correlations: number {} correlates with itself by {}, not by 1", i + 1, r));
      if (!(std::abs(r) <= 1.0 + rounding))
        throw std::invalid_argument(fmt::format(
            "correlations: {} between numbers {} and {} is not within -1 … 1", r, j + 1, i + 1));
      if (!(std::abs(r - matrix[j * inputs + i]) <= rounding))
        throw std::invalid_argument(fmt::format(
            "correlations: numbers {} and {} correlate by {} one way and by {} the other", j + 1,
            i + 1, r, matrix[j * inputs + i]));
    }
}

[[noreturn]] void refuse(std::size_t input) {
  throw std::invalid_argument(fmt::format(
      "correlations: those of number {} with the numbers before it contradict what these "
      "have among themselves (the matrix is not positive semi-definite)",
      input + 1));
}

}  // namespace

// Eigen's factorisations either refuse a semi-definite matrix or change the order of its rows,
// which would move the draws of numbers that stand first.
JointNormal::JointNormal(std::span<const double> correlation)
    : inputs_(static_cast<std::size_t>(
          std::lround(std::sqrt(static_cast<double>(correlation.size()))))),
      factor_(correlation.size()) {
  check(correlation, inputs_);
  const std::size_t n = inputs_;
  const auto sum = [&](std::size_t i, std::size_t j) {
    double products = 0.0;
    for (std::size_t k = 0; k < j; ++k) products += factor_[i * n + k] * factor_[j * n + k];
    return products;
  };
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const double rest = correlation[i * n + j] - sum(i, j);
      const double pivot = factor_[j * n + j];
      // A number that those before it determine alone leaves nothing to correlate with.
      if (pivot == 0.0 && std::abs(rest) > std::sqrt(rounding)) refuse(i);
      factor_[i * n + j] = pivot == 0.0 ? 0.0 : rest / pivot;
    }
    const double own = 1.0 - sum(i, i);
    if (own < -rounding) refuse(i);
    factor_[i * n + i] = own > rounding ? std::sqrt(own) : 0.0;
  }
}

void JointNormal::correlate(std::span<double> normals) const {
  if (normals.size() != inputs_)
    throw std::invalid_argument("correlations: not as many numbers as the matrix has rows");
  for (std::size_t i = inputs_; i-- > 0;) {
    double sum = 0.0;
    for (std::size_t j = 0; j <= i; ++j) sum += factor_[i * inputs_ + j] * normals[j];
    normals[i] = sum;
  }
}

void JointNormal::correlate_shares(std::span<double> shares) const {
  for (double& share : shares) share = ohmdrag::normal_quantile(share);
  correlate(shares);
  for (double& share : shares) share = 0.5 * std::erfc(-share / std::numbers::sqrt2);
}

}  // namespace ohmdrag::numerics

#include "ohmdrag/rig/run_findings.hpp"

#include <cmath>
#include <stdexcept>

#include "ohmdrag/numerics/joint_normal.hpp"

namespace ohmdrag::rig {

RunFigure plain_figure(std::string key, std::string name, ShownIn shown, double value) {
  return {std::move(key), std::move(name), std::move(shown), RunFigure::Told{value, {}, {}}, false};
}

FittedCorrelation fitted_correlation(std::vector<std::string> keys, std::vector<double> matrix,
                                     bool of_scatter) {
  const std::size_t n = keys.size();
  if (matrix.size() != n * n)
    throw std::invalid_argument("fitted correlation: the matrix has not the size of its keys");
  // Rounding may leave near-singular matrices with no draws at all.
  constexpr double decimals = 1e4, step = 0.999;
  constexpr int most_steps = 200;
  double shrunk = 1.0;
  for (int i = 0; i < most_steps; ++i, shrunk *= step) {
    std::vector<double> rounded(matrix.size());
    for (std::size_t k = 0; k < matrix.size(); ++k)
      rounded[k] = k % (n + 1) == 0 ? 1.0 : std::round(decimals * shrunk * matrix[k]) / decimals;
    try {
      const numerics::JointNormal check(rounded);
      return {std::move(keys), std::move(rounded), of_scatter};
    } catch (const std::invalid_argument&) {
      if (i + 1 == most_steps) throw;
    }
  }
  throw std::invalid_argument("fitted correlation: no correlation matrix");
}

}  // namespace ohmdrag::rig

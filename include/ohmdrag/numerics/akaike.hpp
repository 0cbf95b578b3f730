#pragma once

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

namespace ohmdrag::numerics {

/// How much each of several models is supported by the same data, all weights together one.
///
///     w_i = exp(-D_i/2) / sum_j exp(-D_j/2),   D_i = criterion_i - least criterion
///
/// Limits    one model: 1. Equal criteria: equal weights.
/// Source    K. P. Burnham, D. R. Anderson, Model Selection and Multimodel Inference, 2002, section
///           2.9 (from memory).
/// \param criteria  AIC or AICc of each, finite
inline std::vector<double> akaike_weights(std::span<const double> criteria) {
  std::vector<double> weights;
  if (criteria.empty()) return weights;
  const double least = *std::min_element(criteria.begin(), criteria.end());
  double sum = 0.0;
  for (const double criterion : criteria) {
    weights.push_back(std::exp(-0.5 * (criterion - least)));
    sum += weights.back();
  }
  for (double& weight : weights) weight /= sum;
  return weights;
}

}  // namespace ohmdrag::numerics

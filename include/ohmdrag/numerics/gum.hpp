#pragma once

#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/numerics/coverage.hpp"

/// The Guide to the Expression of Uncertainty in Measurement (GUM): what a model's result is worth
/// when it is straight enough over the uncertainty of its inputs.
namespace ohmdrag::numerics {

struct GumInput {
  double estimate = 0.0;
  double uncertainty = 0.0;  ///< standard uncertainty, not negative
  double degrees_of_freedom = std::numeric_limits<double>::infinity();
};

using ModelOfInputs = std::function<double(std::span<const double> inputs)>;

struct GumResult {
  double estimate = 0.0;
  double uncertainty = 0.0;  ///< combined standard uncertainty
  /// Change of the result with one standard uncertainty of the input, with its sign; sensitivity
  /// coefficient times standard uncertainty.
  std::vector<double> contribution = {};
  /// Effective; nothing where an input of finite degrees is correlated, which the formula does not
  /// cover.
  std::optional<double> degrees_of_freedom = {};
};

/// First-order law of propagation.
///
///     u_c^2 = sum_i sum_j c_i c_j u_i u_j r_ij,   nu_eff = u_c^4 / sum_i (c_i u_i)^4/nu_i
///
/// Method    sensitivity coefficients by a five-point difference over u/64, so they are slopes and
///           not differences over the whole uncertainty.
/// Validity  the model is nearly straight over some standard uncertainties of each input; where it
///           is not, agreement() says so.
/// Limits    a linear model: exact.
/// Accuracy  of the contributions to 1e-8 of themselves, or 1e-13 of the result where that is more.
/// Source    JCGM 100:2008, Guide to the Expression of Uncertainty in Measurement, equations 13, 16
///           and G.2b (from memory).
/// \param correlation  row by row; empty for independent inputs
/// \throws std::invalid_argument for no inputs, an uncertainty that is negative or not finite,
///         degrees of freedom that are not positive, correlations that JointNormal refuses, or a
///         result that is not finite.
GumResult first_order(const ModelOfInputs& model, std::span<const GumInput> inputs,
                      std::span<const double> correlation = {});

/// Covariance of two results that share their inputs.
/// \param a, b  of first_order() over the same inputs with this correlation
/// \throws std::invalid_argument if they differ in their number of inputs.
double covariance(const GumResult& a, const GumResult& b, std::span<const double> correlation = {});

/// Combined standard uncertainty with the next terms of the series.
///
///     u^2 = sum_i c_i^2 u_i^2 + sum_i sum_j [f_ij^2/2 + f_i f_ijj] u_i^2 u_j^2
///
/// Validity  independent inputs, symmetric and near normal.
/// Limits    a linear model: first_order().
/// Accuracy  differences over u/4: to 1 % of what the second order adds.
/// Source    JCGM 100:2008, note to 5.1.2 (from memory).
/// \throws std::invalid_argument as first_order(), or if the terms leave no positive variance.
double second_order_uncertainty(const ModelOfInputs& model, std::span<const GumInput> inputs);

/// Factor from a standard to an expanded uncertainty: Student's t, two-sided, of the degrees
/// rounded down to a whole number where they are above one.
/// Limits  infinite degrees: the normal quantile.
/// Source  JCGM 100:2008, G.3.2 and G.4.1 (from memory).
/// \throws std::invalid_argument unless the coverage lies in (0, 1) and the degrees are positive.
double coverage_factor(double coverage, double degrees_of_freedom);

/// How far the ends of two intervals are apart.
struct Agreement {
  double tolerance = 0.0;
  double low_difference = 0.0, high_difference = 0.0;

  bool within() const { return low_difference <= tolerance && high_difference <= tolerance; }
};

/// Holds the GUM's interval, estimate -+ factor times uncertainty, against that of a Monte Carlo
/// calculation: the first-order result is validated where both ends differ by no more than half a
/// unit of the last digit that counts.
/// Validity  Monte Carlo figures that are themselves good to a fifth of it.
/// Source    JCGM 101:2008, section 8.1 (from memory).
/// \throws std::invalid_argument unless the factor is positive and the digits are 1 … 15.
Agreement agreement(const GumResult& gum, double factor, const CoverageInterval& monte_carlo,
                    int significant_digits);

}  // namespace ohmdrag::numerics

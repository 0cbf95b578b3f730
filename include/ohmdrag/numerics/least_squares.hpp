#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "ohmdrag/numerics/dual.hpp"

namespace ohmdrag::numerics {

/// One unknown of a fit. A bound is never reached: the search runs over ln(p - low),
/// -ln(high - p) or ln((p - low)/(high - p)).
struct FitParameter {
  double start = 0.0;  ///< between the bounds
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
};

/// Fills the residuals of a model at these parameters and, row by row, their slopes: residual i
/// over parameter j at [i * number of parameters + j]. Both spans have their size. A residual that
/// is not finite refuses the parameters.
using ResidualFunction = std::function<void(std::span<const double> parameters,
                                            std::span<double> residuals, std::span<double> slopes)>;

/// The residual function of a model that is written for Dual numbers: `model(parameters, i)` is
/// residual i.
template <std::size_t N, class Model>
ResidualFunction with_slopes(Model model) {
  return [model = std::move(model)](std::span<const double> at, std::span<double> residuals,
                                    std::span<double> slopes) {
    std::array<Dual<N>, N> parameters;
    for (std::size_t j = 0; j < N; ++j) parameters[j] = Dual<N>::parameter(at[j], j);
    for (std::size_t i = 0; i < residuals.size(); ++i) {
      const Dual<N> residual = model(std::as_const(parameters), i);
      residuals[i] = residual.value;
      for (std::size_t j = 0; j < N; ++j) slopes[i * N + j] = residual.slope[j];
    }
  };
}

/// How much a residual counts.
enum class Loss {
  squares,
  huber,  ///< squares within 1.345 scales, straight beyond
  tukey,  ///< biweight, nothing beyond 4.685 scales
};

/// A residual beyond so many scales is listed as an outlier.
/// Source  B. Iglewicz, D. C. Hoaglin, How to Detect and Handle Outliers, 1993 (from memory).
inline constexpr double outlier_in_scales = 3.5;

struct FitOptions {
  Loss loss = Loss::squares;
  int most_steps = 5000;  ///< of the search, tried ones included
};

/// What a fit came to. Vectors run over the parameters unless they say otherwise.
struct LeastSquaresFit {
  bool converged = false;
  int steps = 0;  ///< tried
  std::vector<double> parameter;
  /// Row by row; infinite on the diagonal of what the data cannot tell.
  std::vector<double> covariance;
  /// Parameters that, alone or together, change no residual: indices, rising.
  std::vector<std::size_t> untold;
  std::vector<double> residual;       ///< by datum
  std::vector<std::size_t> outliers;  ///< data, rising; none is left out
  double sum_of_squares = 0.0;        ///< of all residuals
  double deviation = 0.0;             ///< of a residual: s, or the scale of a robust loss
  std::size_t degrees_of_freedom = 0;
  /// Akaike's criterion for few data, up to a constant of the data; squares alone.
  std::optional<double> aicc;

  double standard_error(std::size_t j) const;
  double correlation(std::size_t i, std::size_t j) const;
  /// Half width of the 95 % interval, Student's t times the standard error.
  double half_width(std::size_t j) const;
};

/// Student's t of a two-sided 95 % interval.
/// \throws std::invalid_argument unless the degrees of freedom (any real) are positive.
double student_95(double degrees_of_freedom);

/// The parameters that make the sum of the squares of the residuals least.
///
/// Method    Levenberg and Marquardt with the norms of the columns as scales, steps bent by the
///           second derivative along them; every step from an orthogonal factorisation, normal
///           equations are never formed. A robust loss reweights with the median absolute deviation
///           over 0.6745 as scale, `tukey` from the fit of `huber`.
/// Covariance  s^2 (J^T J)^-1 by the singular values of the triangular factor of J; for a robust
///           loss with Huber's factor in place of s^2.
/// Validity  residuals independent, of one deviation and free of outliers (`squares`); a minimum
///           near the start: there may be lower ones.
/// Limits    linear residuals: the linear regression, from any start.
/// Accuracy  parameters to 1e-3 of their standard error, where `converged`; mostly much closer.
/// Source    D. W. Marquardt, J. SIAM 11 (1963) 431-441; damping: H. B. Nielsen,
///           IMM-REP-1999-05, Technical University of Denmark; bend: M. K. Transtrum, J. P. Sethna,
///           arXiv:1201.5885 (2012); robust losses and their covariance: P. J. Huber, Robust
///           Statistics, 1981, sections 7.6 to 7.8; AICc: K. P. Burnham, D. R. Anderson, Model
///           Selection and Multimodel Inference, 2002 (all from memory).
///
/// \param residuals  called often
/// \param data       number of residuals
/// \throws std::invalid_argument if there are not more data than parameters, no parameter, a start
///         is not between its bounds, or a residual at the start is not finite.
LeastSquaresFit least_squares(const ResidualFunction& residuals, std::size_t data,
                              std::span<const FitParameter> parameters,
                              const FitOptions& options = {});

}  // namespace ohmdrag::numerics

#pragma once

#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include "ohmdrag/numerics/sobol_indices.hpp"

namespace ohmdrag::numerics {

/// Which polynomials an input stands in.
enum class InputScale {
  share,  ///< Legendre's of its share of (0, 1): evenly spread inputs
  score,  ///< Hermite's of its normal score: normal inputs, and factors
};

/// Independent inputs in some draws: what of a polynomial through these is the same whatever the
/// outcomes are.
class PolynomialInputs {
 public:
  /// \param shares  [input][row], in (0, 1); as many rows everywhere
  /// \param scales  by input
  /// \throws std::invalid_argument for scales that are missing, inputs of different rows
  PolynomialInputs(const std::vector<std::vector<double>>& shares,
                   std::span<const InputScale> scales);

  std::size_t inputs() const { return by_degree_.size(); }
  std::size_t rows() const { return rows_; }

 private:
  friend class PolynomialFit;

  std::size_t rows_ = 0;
  std::vector<std::vector<double>> by_degree_;  ///< by input: orthonormal polynomials one by one
};

struct PolynomialEffort {
  std::size_t most_rows = 4096;  ///< of the rows, from the first one on
  std::size_t most_inputs = 16;  ///< that stand together with others or in higher powers
  std::size_t most_terms = 160;
};

/// A polynomial of few terms through what a model gave in independent draws of its inputs, and what
/// its coefficients tell of the model's variance: Sobol' indices without a further run.
///
/// Method    orthonormal polynomials up to the third degree in all; terms are taken one by one,
///           always the one that leaves least of the squares, while the error with each row left
///           out in its turn falls. First among single inputs, which says what inputs matter; then
///           once more with products of those. Coefficients by least squares. A coefficient's
///           square is the variance of its term.
/// Unexplained  the last quarter of the rows judges a polynomial of terms and coefficients that
///           were chosen without it; that, or the error of the choice where it is larger.
/// Validity  inputs independent of each other, finite outcomes, `fewest_rows` rows.
/// Limits    a polynomial of the third degree in few inputs: exact. An outcome that never varies:
///           no terms, all indices 0. An input that matters in products alone stays unseen: then
///           what is unexplained says so.
/// Accuracy  as far as it explains the variance: an index may be off by all that is unexplained.
///           Errors of the indices by a jackknife over eight blocks of the rows, the terms kept.
/// Source    B. Sudret, Reliab. Eng. Syst. Saf. 93 (2008) 964-979; G. Blatman, B. Sudret, J.
///           Comput. Phys. 230 (2011) 2345-2367, error with rows left out and its correction (both
///           from memory).
class SparsePolynomial {
 public:
  static constexpr std::size_t fewest_rows = 128;
  static constexpr std::size_t blocks = 8;  ///< of the rows, for errors

  /// \param outcomes  by row, of the first rows of the inputs
  /// \throws std::invalid_argument for no inputs, too few rows, more outcomes than rows, outcomes
  ///         that are not finite
  SparsePolynomial(const PolynomialInputs& inputs, std::span<const double> outcomes,
                   const PolynomialEffort& effort = {});

  /// Share of the variance that it misses in rows that it has not seen.
  double unexplained() const { return unexplained_; }
  /// Terms beside the constant.
  std::size_t terms() const { return terms_.size(); }

  /// Indices of groups of inputs, as shares of the variance of the polynomial.
  SobolIndices indices(const std::vector<std::vector<std::size_t>>& groups) const;

 private:
  struct Factor {
    std::size_t input, degree;
  };
  using Term = std::vector<Factor>;
  friend class PolynomialFit;

  double mean_ = 0.0;
  double unexplained_ = 0.0;
  std::vector<Term> terms_;
  /// Of the whole, then of all blocks but one.
  std::vector<std::vector<double>> coefficients_;
};

}  // namespace ohmdrag::numerics

#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace ohmdrag::numerics {

/// Makes independent standard normal numbers correlated ones.
///
/// Method    z' = L z, with L the lower triangular factor, L L^T the correlation matrix. The first
///           number stays as it is, and a number that is appended moves none of those before it.
/// Validity  a correlation matrix that is positive semi-definite; full correlation is allowed.
/// Limits    the unit matrix changes nothing.
/// Source    A. L. Cholesky's factorisation; JCGM 101:2008, section 6.4.8 and annex C.5 (from
///           memory).
class JointNormal {
 public:
  /// \param correlation  row by row
  /// \throws std::invalid_argument, in words, if the matrix has not its size, is not symmetric, has
  ///         no ones on its diagonal, a coefficient beyond -1 ... 1, or is not positive
  ///         semi-definite, to 1e-10.
  explicit JointNormal(std::span<const double> correlation);

  std::size_t inputs() const { return inputs_; }

  /// In place.
  /// \throws std::invalid_argument unless there are as many as inputs.
  void correlate(std::span<double> normals) const;

  /// The same for shares of (0, 1), whatever the distribution each is drawn from: the matrix is
  /// then that of their normal scores (a Gaussian copula), a little stronger than that of the
  /// values.
  void correlate_shares(std::span<double> shares) const;

 private:
  std::size_t inputs_ = 0;
  std::vector<double> factor_;  ///< row by row, zero above the diagonal
};

}  // namespace ohmdrag::numerics

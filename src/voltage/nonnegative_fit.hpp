#pragma once

#include <Eigen/Core>

namespace ohmdrag::voltage {

/// The x >= 0 that makes |A x - b| least.
///
/// Columns are brought to length one; the active set grows by the steepest member and shrinks where
/// a member would turn negative.
/// Source  C. L. Lawson, R. J. Hanson, Solving Least Squares Problems, 1974, algorithm NNLS (from
///         memory).
/// \throws std::runtime_error if the active set does not settle.
Eigen::VectorXd nonnegative_fit(const Eigen::MatrixXd& a, const Eigen::VectorXd& b);

}  // namespace ohmdrag::voltage

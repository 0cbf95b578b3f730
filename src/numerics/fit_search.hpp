#pragma once

#include <Eigen/Core>

#include "ohmdrag/numerics/least_squares.hpp"

/// The search for the least sum of weighted squares.
namespace ohmdrag::numerics {

using Slopes = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

struct Evaluation {
  Eigen::VectorXd parameter;  ///< within the bounds
  Eigen::VectorXd residual;
  Slopes slopes;  ///< over the parameters
};

struct Search {
  Evaluation end;
  bool converged = false;
  int steps = 0;
};

/// \param weights  of the squares, one a datum
Search search(const ResidualFunction& residuals, std::span<const FitParameter> parameters,
              const Eigen::VectorXd& from, const Eigen::VectorXd& weights, int most_steps);

}  // namespace ohmdrag::numerics

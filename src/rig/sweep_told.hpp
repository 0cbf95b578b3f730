#pragma once

#include <vector>

#include "rig/sweep_problem.hpp"

namespace ohmdrag::rig {

/// What a fit of a sweep tells of each part, with notes on what it does not.
/// \param parameters   logarithms, as SweepProblem has them
/// \param covariance   of these, row by row, widened
/// \param student      t of the 95 % interval
struct FittedCircuit {
  std::vector<CircuitPart> parts;
  CircuitSizes sizes;
  std::vector<double> covariance;
  double student = 0.0;
};
void tell_parts(const Sweep& sweep, const FittedCircuit& circuit, SweepFit& out);

}  // namespace ohmdrag::rig

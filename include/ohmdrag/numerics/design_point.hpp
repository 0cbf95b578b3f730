#pragma once

#include <cstddef>
#include <functional>
#include <vector>

/// The nearest point at which something changes: the design point of first-order reliability.
namespace ohmdrag::numerics {

/// A limit state at many points at once, so that they may be computed in parallel: above zero the
/// present state holds, at zero and below it has changed.
using LimitState =
    std::function<std::vector<double>(const std::vector<std::vector<double>>& points)>;

struct DesignPointOptions {
  std::size_t iterations = 8;
  double step = 0.1;         ///< of the differences, in standard deviations
  double farthest = 6.0;     ///< no point beyond this distance is looked at
  double resolution = 1e-4;  ///< of the crossing along its ray, in standard deviations
  double closeness = 1e-3;   ///< of two iterates, in standard deviations, at which the search ends
  /// Slopes to begin with, one an input; empty: differences at the origin. Those over a wide
  /// stretch find a step that a small difference does not see.
  std::vector<double> first_slopes = {};
};

struct DesignPoint {
  bool reached = false;  ///< the state has changed at `normal_scores`
  std::vector<double> normal_scores;
  double distance = 0.0;        ///< from the origin, the reliability index beta
  std::size_t evaluations = 0;  ///< points at which the limit state was computed
};

/// Searches for the point nearest to the origin of independent standard normal inputs at which the
/// limit state has changed.
///
/// Method    Hasofer, Lind, Rackwitz and Fiessler: along the gradient to the zero of the tangent,
///           u' = (grad.u - g) grad/|grad|^2, with the step of least merit |u|^2/2 + c |g| out of a
///           whole, a half and a quarter one (Zhang and Der Kiureghian); gradient by central
///           differences. At last the first crossing of the boundary is looked for on the ray from
///           the origin through every iterate (first_change()), and the nearest one is the answer:
///           a point where the change was computed.
/// Validity  a limit state above zero at the origin. It need not be smooth: where slopes lead
///           nowhere, the crossing on a ray is still a true one.
/// Limits    a linear limit state: exact, |g(0)|/|grad|. Several nearest points: one of them; a
///           nearer crossing elsewhere may stay unseen, so the distance is an upper bound.
/// Accuracy  of the crossing `resolution` along its ray; of the distance 1e-3 where
///           the limit state is smooth.
/// Source    A. M. Hasofer, N. C. Lind, J. Eng. Mech. Div. ASCE 100 (1974) 111-121; R. Rackwitz,
///           B. Fiessler, Comput. Struct. 9 (1978) 489-494; Y. Zhang, A. Der Kiureghian, Proc. 6th
///           IFIP WG 7.5 (1995) 297-304 (all from memory).
/// \throws std::invalid_argument for no inputs, slopes that are not one an input, or a limit state
///         that is not above zero at the origin.
DesignPoint design_point(const LimitState& limit_state, std::size_t inputs,
                         const DesignPointOptions& options = {});

}  // namespace ohmdrag::numerics

#pragma once

#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::component {

/// A cooled rod between two nodes as an exact two-port.
struct RodConductance {
  double through_W_K;  ///< g / sinh mL, node to node
  double to_side_W_K;  ///< g tanh(mL/2), each node to the surroundings
};

/// \param decays  the length in decay lengths, > 0
template <class Math>
[[gnu::always_inline]] inline RodConductance rod_of(double fin_W_K, double decays) {
  // sinh(mL) = 2 t / (1 - t^2) and (cosh(mL) - 1) / sinh(mL) = t with t = tanh(mL/2).
  const double half = Math::tanh(0.5 * decays);
  return {.through_W_K = fin_W_K * (1.0 - half * half) / (2.0 * half),
          .to_side_W_K = fin_W_K * half};
}

inline RodConductance rod_conductance(double fin_W_K, double decay_m, double length_m) {
  return rod_of<numerics::LibraryMath>(fin_W_K, length_m / decay_m);
}

}  // namespace ohmdrag::component

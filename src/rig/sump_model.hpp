#pragma once

#include <cmath>
#include <vector>

#include "ohmdrag/numerics/dual.hpp"
#include "ohmdrag/rig/sump_fit.hpp"

namespace ohmdrag::rig {

/// A piece in plain numbers, what every step of it needs.
struct SumpSteps {
  std::vector<double> measured_K;  ///< one more than steps
  std::vector<double> dt_s, heat_W, ambient_K;
  std::vector<double> air;  ///< (v/v_ref)^n
};

/// What the model is fitted over: number or dual number.
template <class N>
struct SumpState {
  N capacity_J_K;
  N conductance_W_K;
  N added_W_K;  ///< by the air stream at its reference speed
  N start_K;
};

/// Temperatures at the samples. The step is that of duty::temperature_after, written for dual
/// numbers and for a conductance that may be negative while the search is under way.
template <class N>
std::vector<N> temperatures(const SumpSteps& steps, const SumpState<N>& of) {
  constexpr double least_exponent = 1e-9;  // below, (1 - e^-x)/x is 1 - x/2 to rounding
  std::vector<N> result{of.start_K};
  result.reserve(steps.measured_K.size());
  for (std::size_t i = 0; i < steps.dt_s.size(); ++i) {
    const N conductance = of.conductance_W_K + of.added_W_K * steps.air[i];
    const N x = conductance * steps.dt_s[i] / of.capacity_J_K;
    const N net = N(steps.heat_W[i]) - conductance * (result.back() - steps.ambient_K[i]);
    const N mean_decay =
        std::abs(x.value) > least_exponent ? expm1(N(0.0) - x) / (N(0.0) - x) : 1.0 - 0.5 * x;
    result.push_back(result.back() + net * steps.dt_s[i] / of.capacity_J_K * mean_decay);
  }
  return result;
}

/// Refuses what cannot be a log of a sump; notes what looks odd.
/// \throws std::invalid_argument
void require_plausible(const SumpRun& run, std::vector<std::string>& notes);

}  // namespace ohmdrag::rig

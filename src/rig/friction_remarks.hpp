#pragma once

#include "ohmdrag/rig/friction_fit.hpp"
#include "rig/friction_choice.hpp"

namespace ohmdrag::rig {

/// Says of a fit what makes its figures doubtful and what the run does not tell.
void add_friction_remarks(const FrictionRun& run, const FrictionProblem& problem,
                          const FormChoice& choice, FrictionFit& fit);

/// Warns of residuals that follow the temperature or the order of the run.
void add_trend_remarks(const FrictionProblem& problem, FrictionFit& fit);

}  // namespace ohmdrag::rig

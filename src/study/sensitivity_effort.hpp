#pragma once

#include "study/flip_search.hpp"
#include "study/variance_moves.hpp"

/// How much computing the sensitivities of a trade study take, all in one place. Counts, never
/// times: the same case gives the same bytes on every machine.
namespace ohmdrag::study {

/// Of figures at an operating point.
inline constexpr MovesEffort effort_at_a_point{
    .sobol = {.points = 32, .replicates = 8, .seed = 1}, .most_inputs = 6, .least_share = 0.005};

/// Of figures over a duty, each of which marches it twice.
inline constexpr MovesEffort effort_over_duties{
    .sobol = {.points = 8, .replicates = 8, .seed = 1}, .most_inputs = 4, .least_share = 0.01};

/// Of the stress test, each evaluation the whole case in one draw: some 350 with a hundred inputs.
inline constexpr FlipEffort flip_effort{};

/// Draws of a rung of the evidence dial, where the study takes more: enough to see an answer fall.
inline constexpr int most_dial_samples = 200;

}  // namespace ohmdrag::study

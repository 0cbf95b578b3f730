#pragma once

#include "study/flip_search.hpp"
#include "study/variance_moves.hpp"

/// How much computing the sensitivities of a trade study take, all in one place. Counts, never
/// times: the same case gives the same bytes on every machine.
namespace ohmdrag::study {

/// Of watts at an operating point.
inline constexpr MovesEffort effort_of_watts{
    .sobol = {.points = 64, .replicates = 8, .seed = 1}, .most_inputs = 8, .least_share = 0.005};

/// Of voltage and discharge at an operating point.
inline constexpr MovesEffort effort_of_voltage{
    .sobol = {.points = 32, .replicates = 8, .seed = 1},
    .most_inputs = 6,
    .least_share = 0.01,
    // As wide as the intervals of so few runs are where one input switches what the others do.
    .most_unexplained = 0.35};

/// Of figures over the duties, each evaluation of which marches them twice.
inline constexpr MovesEffort effort_over_duties{
    .sobol = {.points = 16, .replicates = 8, .seed = 1}, .most_inputs = 4, .least_share = 0.01};
/// Draws of a study below which nothing is asked of them: they would cost more than the study.
inline constexpr int least_draws_over_duties = 400;

/// Of the stress test, each evaluation the whole case in one draw: some 350 with a hundred inputs.
inline constexpr FlipEffort flip_effort{};

/// Draws of a rung of the evidence dial, where the study takes more: enough to see an answer fall,
/// and as many as quasi-random points ask for.
inline constexpr int most_dial_samples = 128;

/// Draws in which the questions of a study are asked, where it takes more: each is evaluated some
/// forty times.
inline constexpr int most_ask_samples = 200;

}  // namespace ohmdrag::study

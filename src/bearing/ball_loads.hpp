#pragma once

#include <span>
#include <vector>

#include "ohmdrag/bearing/load_distributions.hpp"

namespace ohmdrag::bearing {

/// The loads alone of load_distributions_over_phase(), ball after ball, in newtons: what films ask
/// for.
std::vector<double> ball_loads_N_over_phase(const BallBearing& bearing, const Elastic& steel,
                                            std::span<const AppliedLoad> loads, int count);

}  // namespace ohmdrag::bearing

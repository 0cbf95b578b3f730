#pragma once

#include <span>
#include <vector>

#include "ohmdrag/bearing/load_distribution.hpp"

namespace ohmdrag::bearing {

struct AppliedLoad {
  Force radial, axial;
};

/// load_distribution_over_phase() under several loads, which are solved side by side: those at the
/// `count` positions of the cage under the first load, then those under the next.
std::vector<LoadDistribution> load_distributions_over_phase(const BallBearing& bearing,
                                                            const Elastic& steel,
                                                            std::span<const AppliedLoad> loads,
                                                            int count);

}  // namespace ohmdrag::bearing

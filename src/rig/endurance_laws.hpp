#pragma once

#include <vector>

#include "rig/endurance_pool.hpp"

namespace ohmdrag::rig {

/// A law with its fit.
struct LawCandidate {
  EnduranceLaw row;
  PooledFit pooled;
};

/// All laws fitted and compared, the best first; laws that are not compared come last. Fills lag
/// and effective readings, which are those of the law with the least noise.
std::vector<LawCandidate> compared_laws(const EnduranceData& data, EnduranceFit& out);

}  // namespace ohmdrag::rig

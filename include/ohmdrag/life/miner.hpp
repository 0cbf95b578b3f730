#pragma once

#include <span>

#include "ohmdrag/bearing/damage_sum.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::life {

/// A share of the time with the life that it alone would give.
using LifeStep = bearing::LifeShare;

/// Life under a duty: bearing::mixed_life(), which cites the source. Steps that consume nothing
/// enter with an infinite life.
inline Time miner_life(std::span<const LifeStep> steps) { return bearing::mixed_life(steps); }

}  // namespace ohmdrag::life

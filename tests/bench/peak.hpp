#pragma once

#include "ohmdrag/numerics/lane_width.hpp"

namespace ohmdrag::bench {

/// Multiplications and additions a second of one core when nothing holds them up: as many of
/// either, in registers, independent of each other, none fused. The mix of the march, which may not
/// fuse them either. CPU time; the best of several tries.
double peak_flop_per_s(numerics::LaneWidth width);

}  // namespace ohmdrag::bench

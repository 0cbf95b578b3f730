#pragma once

#include "study/ensemble.hpp"

namespace ohmdrag::study {

/// Samples in a block of an adaptive ensemble: the least of JCGM 101, section 7.2.2 (from memory),
/// for an interval of 95 %, 100/(1 - 0.95), rounded up to a power of two, which suits Sobol'
/// points. Its section 7.9.4 takes 10 000; a sample here is a drive of every variant over every
/// duty.
inline constexpr int adaptive_block = 2048;
/// At most, where the case does not say.
inline constexpr int adaptive_most = 16 * adaptive_block;
/// Two blocks, which JCGM 101 allows, may agree by luck.
inline constexpr int adaptive_fewest_blocks = 4;

/// Adds blocks to the ensemble's first until the ends of every headline figure's 95 % interval
/// stand still to the case's digits, or its largest number of samples is reached.
/// Source  JCGM 101:2008, section 7.9 (from memory), by numerics::still_ends().
Stability take_until_still(Ensemble& ensemble);

}  // namespace ohmdrag::study

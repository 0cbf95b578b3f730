#pragma once

#include <cstddef>
#include <span>

namespace ohmdrag::numerics {

/// How still the ends of an interval stand from block to block of an adaptive Monte Carlo
/// calculation whose trials yield many figures at once.
struct StillEnds {
  /// Twice the standard deviation of the mean of the blocks' ends; 0 where an end is infinite in
  /// all blocks, infinite where it is in some.
  double low_error = 0.0, high_error = 0.0;
  double tolerance = 0.0;  ///< numerical_tolerance() of the standard uncertainty

  bool still() const { return low_error <= tolerance && high_error <= tolerance; }
};

/// \param values    of all blocks, one block after another, none NaN
/// \param block     values in a block; at least 100/(1 - coverage) make sense of the ends
/// \param coverage  share of the symmetric interval
/// \param digits    of the standard uncertainty that count
///
/// Method    JCGM 101's adaptive procedure for the two ends; the standard uncertainty is the
///           standard deviation of all values or, where some are infinite, half the distance of
///           their 16 % and 84 % points. Where one of these is infinite too there is no such
///           uncertainty: the finite end has to stand still to so many of its own digits.
/// Validity  blocks that are independent of each other.
/// Limits    a figure that never varies: errors 0, tolerance 0, still.
/// Source    JCGM 101:2008, section 7.9 (from memory).
/// \throws std::invalid_argument for fewer than two whole blocks, and as coverage_interval() and
///         numerical_tolerance() do.
StillEnds still_ends(std::span<const double> values, std::size_t block, double coverage,
                     int digits);

}  // namespace ohmdrag::numerics

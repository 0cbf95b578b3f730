#pragma once

#include <span>

namespace ohmdrag::numerics {

/// An interval that holds a stated share of values.
struct CoverageInterval {
  double low = 0.0;
  double high = 0.0;

  double width() const { return high - low; }
};

enum class IntervalKind {
  symmetric,  ///< as many values left out below as above
  shortest,   ///< of all intervals between two of the values that hold enough
};

/// The interval between two of the values that holds the stated share of them.
///
/// Method    values y(1) <= … <= y(M); q = share*M, to the nearest whole; [y(r), y(r + q)] with
///           r = (M - q)/2, rounded up, or the r of the least width.
/// Validity  M much larger than 1/(1 - share). The shortest interval means something where the
///           values have one peak; its place, unlike its width, is noisy. Infinite values keep
///           their place in the order, so an end may be infinite.
/// Source    JCGM 101:2008, section 7.7 (from memory).
/// \param sorted  rising
/// \throws std::invalid_argument unless the share lies in (0, 1), the values rise, none is NaN and
///         there are enough to leave one out.
CoverageInterval coverage_interval(std::span<const double> sorted, double share, IntervalKind kind);

}  // namespace ohmdrag::numerics

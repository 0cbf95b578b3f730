#pragma once

#include <optional>
#include <span>

/// "99 % of the parts, with 90 % confidence" out of values drawn part by part, whatever their
/// distribution.
namespace ohmdrag::numerics {

/// The least of the values that at least this share of all parts does not exceed, with this
/// confidence; nothing where the values are too few to say so, specimens_needed() without failures.
///
/// Method    the r-th smallest of n values lies above the quantile with the probability that no
///           more than r - 1 of n lie below it, a sum of the binomial distribution; the least r
///           for which share_at_least() of r held in n reaches the share.
/// Validity  values drawn independently of each other, part by part, at one state of what is not
///           known: what all parts share must not be drawn anew for each. Not for quasi-random or
///           stratified draws, which are not independent. Infinite values keep their place.
/// Limits    59 values say it of 95 % with 95 % confidence, by the largest of them.
/// Source    S. S. Wilks, Ann. Math. Stat. 12 (1941) 91-96 (from memory).
/// \param values  in any order
/// \throws std::invalid_argument if share or confidence is not in (0, 1) or a value is NaN.
std::optional<double> upper_tolerance_limit(std::span<const double> values, double share,
                                            double confidence);

/// The largest of the values that at least this share of all parts reaches: the same from below.
std::optional<double> lower_tolerance_limit(std::span<const double> values, double share,
                                            double confidence);

}  // namespace ohmdrag::numerics

#pragma once

#include <optional>
#include <vector>

#include "study/ensemble.hpp"

namespace ohmdrag::study {

/// Requirements that ask for a confidence, "99 % of the parts with 90 % confidence", with what is
/// not known and what differs from part to part kept apart.
///
/// Method    nested: at each of `states` draws of all spreads, a number of parts that differ in
///           their scatters; the share of them that meets the requirement, state by state. The
///           share at confidence is what at least the confidence asked for of the states reach.
///           Without any spread: parts drawn independently of each other, and the least share of
///           all parts by the binomial distribution (numerics::share_at_least). Without any
///           scatter all parts are alike: each state meets it or does not.
/// Validity  as the models; that spreads and scatters are stated apart. Stated as a spread, what in
///           truth scatters counts as not known, so a share comes out as all or nothing.
/// Accuracy  as each row says: a share of one state out of its parts, a confidence out of its
///           states. Scatter is drawn in strata, which does better than the binomial error stated.
/// Source    order statistics: S. S. Wilks, Ann. Math. Stat. 12 (1941) 91-96 (from memory); nested:
///           common practice, no source.
/// \return [variant][requirement]; empty lists where no requirement asks, or the ensemble is that
///         of the middle alone
std::vector<std::vector<std::optional<ShareOfParts>>> shares_of_parts(const Ensemble& ensemble);

}  // namespace ohmdrag::study

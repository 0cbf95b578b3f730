#pragma once

#include "study/choice.hpp"

namespace ohmdrag::study {

/// The nearest inputs at which the recommendation of a trade study is another, in the user's units.
///
/// Recommended in a point is what the rule of the trade chooses in a single draw (ChoiceRule). It
/// turns where the recommended variant misses a requirement, no longer helps, or another one that
/// may be chosen costs less; where none or the present design is recommended, where a variant may
/// be chosen.
/// Method  flip_search() over the decisive part of the case, without variants that shorten the life
///         of a bearing or miss a requirement in every draw of the ensemble by a factor of 150.
///         Of independent draws, SparsePolynomial::fewest_rows and more, a polynomial tells which
///         inputs move a way of turning; only those are tried alone.
/// Limits  where the middle of all inputs already chooses another one, nothing is searched: the
///         result says so. Measured trips are not marched again: nothing is searched either.
StressTest stress_test(const ChoiceRule& rule, const Trade& trade);

}  // namespace ohmdrag::study

#pragma once

#include "study/ensemble.hpp"

namespace ohmdrag::study {

/// The headline figures by the first-order law of propagation of uncertainty beside the ensemble's,
/// and whether the first order is good enough.
///
/// Method    every uncertain input on its own at one standard uncertainty below and above its
///           median, a factor on its logarithm; the slope between the two times the standard
///           uncertainty is its contribution, correlations of the case included; 95 % by the normal
///           factor. Validated where both ends differ from the ensemble's by no more than half of
///           the last digit of the standard uncertainty that counts (JCGM 101, section 8.1). That
///           asks for ends good to a fifth of it; instead of asking, the error of the ensemble's
///           own ends is weighed: an answer that it could turn is "not settled".
/// Validity  figures nearly straight over some standard uncertainties of every input.
/// Limits    a linear model of normal inputs: the ensemble's interval but for its own error.
/// Accuracy  the ends of the ensemble by the binomial distribution of ranks, 95 %; draws in strata
///           do better than that.
/// Source    JCGM 100:2008, equations 13 and 16; JCGM 101:2008, section 8 (from memory).
std::vector<FirstOrderRow> first_order(const Ensemble& ensemble);

/// Why the first-order result is left out; empty: it is not.
std::string no_first_order(const Ensemble& ensemble);

}  // namespace ohmdrag::study

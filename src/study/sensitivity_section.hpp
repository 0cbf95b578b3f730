#pragma once

#include "study/sections.hpp"

namespace ohmdrag::study {

/// What moves the figures of the trade, by Sobol' indices: fills the figures of the sensitivity,
/// the shares that rest on assumption, and ranks the register.
void rank_register(const Ensemble& ensemble, Findings& findings);

/// All of the sensitivity, and the first-order result unless the findings say why there is none;
/// after the trade and the register.
void fill_sensitivity(const Ensemble& ensemble, Findings& findings);

/// The strongest argument against the answer, out of the findings: the first of these that applies
/// - the answer is the best one in less than half of the draws
/// - it does not survive the first rung of the evidence dial
/// - inputs within one standard uncertainty overturn it
/// - a requirement is missed in more than one draw of twenty
/// - it does harm
/// - more than half of the variance rests on assumption
/// - inputs that were found overturn it, how far they may be
/// - what the claim lacks
std::string argument_against(const Findings& findings);

}  // namespace ohmdrag::study

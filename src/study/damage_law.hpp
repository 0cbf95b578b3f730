#pragma once

#include <string>

#include "study/ensemble.hpp"

/// Electrical life under the laws that a case names, with what each of them cannot see.
namespace ohmdrag::study {

/// Hours that 90 % of such bearings survive under one law. Infinite: the law sees no limit; NaN: it
/// says nothing here, as nothing discharged where it was calibrated or a contact area is not known.
/// \param here      sums per second of running, as the others
/// \param baseline  of the same bearing in the baseline
/// \param observed  of the same bearing in the variant of a dose law's observation
double law_hours(const DamageLaw& law, double erosion_slope, const BearingSample& here,
                 const BearingSample& baseline, const BearingSample& observed);

/// The variant of a dose law's observation; of other laws the baseline.
std::size_t variant_observed(const Ensemble& ensemble, const DamageLaw& law);

/// "dose", "current-density", "relative".
std::string law_word(LawKind kind);

/// What a law cannot see; printed beside its hours, always.
std::string blind_spot(const DamageLaw& law);

}  // namespace ohmdrag::study

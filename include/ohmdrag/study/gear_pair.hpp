#pragma once

#include "ohmdrag/component/gear_mesh.hpp"
#include "ohmdrag/study/draws.hpp"
#include "ohmdrag/study/elements.hpp"

namespace ohmdrag::study {

/// One draw of a gear: with tips and centre distance as given, or those of teeth without profile
/// shift.
/// \throws std::invalid_argument for teeth that component::unshifted_pair refuses.
component::GearPair gear_pair_of(const GearElement& gear, const Draw& draw);

}  // namespace ohmdrag::study

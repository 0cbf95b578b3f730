#pragma once

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

/// Dynamic equivalent load of a single-row tapered roller bearing.
///
///     P = F_r                    F_a/F_r <= e
///     P = 0.4 F_r + Y F_a        F_a/F_r >  e
///     Y = 0.4 cot(alpha),  e = 1.5 tan(alpha) = 0.6/Y
///
/// F_a is what the bearing really carries: with the F_r/(2 Y) that the cone of its partner induces,
/// where nothing else holds the shaft.
///
/// Sign: magnitudes of both loads count.
///
/// Limits    F_a = 0: F_r.  F_r = 0: Y F_a.  Both branches meet at F_a/F_r = e.
/// Source    ISO 281:2007, radial roller bearings with a contact angle, as quoted in public copies;
///           F_r/(2 Y) from memory.
///
/// \param axial_factor  Y
/// \throws std::invalid_argument unless Y > 0.
Force tapered_roller_equivalent_load(Force radial, Force axial, double axial_factor);

}  // namespace ohmdrag::bearing

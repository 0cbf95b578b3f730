#pragma once

#include <vector>

#include "ohmdrag/bearing/geometry.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

/// Loads of the rollers of a bearing without play, one after another around it.
///
///     Q(psi) = Q_max cos^(10/9) psi    |psi| < 90 deg,    sum Q cos(alpha) cos(psi) = F_r
///     plus, with a contact angle, (F_a - sum Q sin alpha)/(Z sin alpha) each, if that is positive
///
/// Sign: the direction of either load does not matter.
///
/// Validity  rigid rings, no tilt, no play. Axial load of cylindrical rollers rests on flanges and
///           loads no line. What the cones of tapered rollers push beyond F_a, the partner holds.
/// Limits    many rollers, alpha = 0: Q_max -> 4.08 F_r/Z, stribeck_roller_load().
/// Accuracy  half the rollers carry the radial load; with axial load beyond its share the even part
///           is an approximation.
/// Source    cos^(10/9) and 4.08: B. J. Hamrock, W. J. Anderson, Rolling-Element Bearings, NASA
///           RP-1105 (1983), from memory; the even part is derived from statics.
///
/// \param phase  position of the first roller as a share of the pitch of rollers, 0 to 1
/// \throws std::invalid_argument on invalid geometry or where no line carries load.
std::vector<Force> roller_loads(const RollerBearing& bearing, Force radial, Force axial,
                                double phase = 0.0);

/// The loads at `count` evenly spaced positions of the cage within half a pitch of rollers.
std::vector<std::vector<Force>> roller_loads_over_phase(const RollerBearing& bearing, Force radial,
                                                        Force axial, int count);

}  // namespace ohmdrag::bearing

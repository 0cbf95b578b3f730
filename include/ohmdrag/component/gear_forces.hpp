#pragma once

#include "ohmdrag/quantity/quantities.hpp"

/// Forces that a pair of cylindrical gears puts on its shafts and their bearings.
namespace ohmdrag::component {

/// Signed forces on the pinion at its pitch point.
///
///     F_t = 2 T / d_w,   F_r = |F_t| tan alpha_n / cos beta,   F_a = F_t tan beta
///
/// Sign: F_t and F_a turn with the torque, from drive to coast; F_r always pushes the shafts apart.
///
/// Validity  cylindrical involute gears, no shift of the pressure angle, friction left out.
/// Limits    spur (beta = 0): no axial force. T = 0: no forces.
/// Source    derived: statics of an inclined tooth; as in any textbook on gears.
struct GearForces {
  Force tangential;
  Force radial;  ///< never negative
  Force axial;
};

/// \param torque             of the pinion, drive positive
/// \param pitch_diameter     d_w > 0, working
/// \param pressure_angle     alpha_n [rad] in the normal section, in (0, pi/4)
/// \param helix_angle        beta [rad], in (-pi/4, pi/4); its sign is that of the axial force in
///                           drive
/// \throws std::invalid_argument for arguments outside their ranges.
GearForces gear_forces(Torque torque, Length pitch_diameter, double pressure_angle,
                       double helix_angle);

/// A shaft on two bearings, the gear between or beside them.
struct GearSeat {
  Length span;                ///< L > 0, between the bearings
  Length position;            ///< x, from the first bearing; beyond the span: overhung
  Length pitch_diameter;      ///< d_w > 0
  bool first_locates = true;  ///< takes the axial force, the other none
};

struct BearingReaction {
  Force radial;  ///< magnitude
  Force axial;   ///< magnitude
};
struct BearingReactions {
  BearingReaction first;
  BearingReaction second;
};

/// Loads of both bearings.
///
///     second: tangential F_t x/L,  radial (F_r x + F_a d_w/2)/L;   first: the rest
///
/// Validity  stiff shaft, bearings without moment; own weight and magnetic pull left out.
/// Limits    gear at a bearing: that bearing carries everything but the axial force's moment.
/// Source    derived: statics.
/// \throws std::invalid_argument for members outside the ranges they name.
BearingReactions bearing_reactions(const GearForces& forces, const GearSeat& seat);

}  // namespace ohmdrag::component

#pragma once

#include <vector>

#include "ohmdrag/bearing/elastic.hpp"
#include "ohmdrag/bearing/geometry.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

struct BallLoad {
  double position;       ///< psi [rad] from the direction of the radial load
  Force load;            ///< Q, 0 for an unloaded ball
  double contact_angle;  ///< alpha [rad]
};

/// How a bearing shares its load among the balls.
struct LoadDistribution {
  std::vector<BallLoad> balls;
  Force q_max;            ///< load of the most loaded ball
  double angle_at_q_max;  ///< its contact angle [rad]
  int loaded;             ///< number of balls with load
  Length radial_shift;    ///< delta_r of the rings against each other
  Length axial_shift;     ///< of the grooves from their centred position
  double residual;        ///< |force out of balance| / applied load
};

/// Stiffness of one ball between both rings, Q = K_n delta^1.5, in N/m^1.5.
///
///     K_n = (K_i^(-2/3) + K_o^(-2/3))^(-3/2),  K = Q/delta^1.5 of the Hertz contact
///
/// Raw double: N/m^1.5 has no name in the trade's unit tables and never leaves this room.
///
/// Source  derived: both approaches add, contact_ellipse().
double ball_stiffness_N_per_m15(const BallBearing& bearing, const Elastic& steel);

/// Ball loads under radial and axial load, with play.
///
///     s(psi) = sqrt[z^2 + (A_0 - P_d/2 + delta_r cos psi)^2] - A_0,  Q = K_n max(0, s)^1.5
///     sum Q cos(alpha) cos(psi) = F_r,  sum Q sin(alpha) = F_a
///
/// z is the axial distance of the groove centres, tan(alpha) = z/(A_0 - P_d/2 + delta_r cos psi).
/// The two shifts are the minimum of a convex energy: one solution. An angular-contact bearing
/// states its contact_angle instead of a clearance.
///
/// Sign: the direction of either load does not matter; angles are never negative.
///
/// Validity  rigid rings, no tilt, the shaft gives way along the load only; no centrifugal force:
///           n d_m below about 1e6 mm/min.
/// Limits    F_a = 0, P_d = 0, many balls: q_max -> stribeck_ball_load(), whose 4.37 is 4.3706.
///           F_r = 0: every ball carries F_a/(Z sin alpha).
/// Accuracy  residual below 1e-10.
/// Source    derived: Hertz contact and statics.
///
/// \param bearing   geometry with operating clearance
/// \param steel     of rings and balls
/// \param radial    F_r  [N]
/// \param axial     F_a  [N]
/// \param phase     position of the first ball as a share of the ball pitch, 0 to 1
/// \throws std::invalid_argument on invalid geometry, no load at all, or both a contact angle and
///         a clearance.
LoadDistribution load_distribution(const BallBearing& bearing, const Elastic& steel, Force radial,
                                   Force axial, double phase = 0.0);

/// The distribution at `count` evenly spaced positions of the cage within half a ball pitch, whose
/// mean is the mean over a revolution.
std::vector<LoadDistribution> load_distribution_over_phase(const BallBearing& bearing,
                                                           const Elastic& steel, Force radial,
                                                           Force axial, int count);

/// Load of the worst ball under radial load without play.
///
///     Q_max = 4.37 F_r/(Z cos alpha)          [N]
///
/// Source  R. Stribeck (1901), as quoted in B. J. Hamrock, W. J. Anderson, Rolling-Element
///         Bearings, NASA RP-1105 (1983).
Force stribeck_ball_load(const BallBearing& bearing, Force radial);
/// The same for cylindrical rollers: Q_max = 4.08 F_r/Z.
Force stribeck_roller_load(const RollerBearing& bearing, Force radial);

}  // namespace ohmdrag::bearing

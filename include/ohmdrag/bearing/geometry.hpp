#pragma once

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

/// Internal geometry of a single-row radial ball bearing; both grooves have the same conformity.
struct BallBearing {
  int balls;                    ///< Z   >= 3
  Length ball_diameter;         ///< D_w > 0
  Length pitch_diameter;        ///< d_m > D_w
  double conformity;            ///< f = groove radius / D_w, > 0.5
  double contact_angle = 0.0;   ///< alpha [rad], 0 <= alpha < pi/2; 0 for deep-groove bearings
  Length clearance = Length{};  ///< P_d >= 0, diametral play in operation
};

/// A single-row bearing of cylindrical or tapered rollers.
struct RollerBearing {
  int rollers;             ///< Z
  Length roller_diameter;  ///< D_w, of a taper its mean
  Length pitch_diameter;   ///< d_m
  // What only load distribution and films ask for.
  Length roller_length = Length{};  ///< l, effective
  double contact_angle = 0.0;       ///< alpha [rad]; 0 for cylindrical rollers
};

/// Equivalent radii of a ball on its groove.
struct ContactRadii {
  Length rolling;     ///< R_x, in the direction of rolling
  Length transverse;  ///< R_y, across it
};

/// Throws std::invalid_argument, naming the member, unless the geometry is one of a bearing.
void require_valid(const BallBearing& bearing);
/// Likewise; all members must be stated.
void require_valid(const RollerBearing& bearing);

/// gamma = D_w cos(alpha) / d_m.
double diameter_ratio(const BallBearing& bearing, double contact_angle);

/// Equivalent radii of ball and inner ring at a contact angle [rad].
///
///     R_x = (D_w/2)(1 - gamma),  R_y = f D_w/(2 f - 1),  gamma = D_w cos(alpha)/d_m
///
/// Source  B. J. Hamrock, W. J. Anderson, Rolling-Element Bearings, NASA RP-1105 (1983).
ContactRadii inner_radii(const BallBearing& bearing, double contact_angle);
/// The same for the outer ring: R_x = (D_w/2)(1 + gamma).
ContactRadii outer_radii(const BallBearing& bearing, double contact_angle);

/// Equivalent radii of roller and inner or outer ring, R_x = (D_w/2)(1 -+ gamma).
///
/// Accuracy  cylindrical rollers exact; of tapered ones to the cosines of the roller's cone.
Length inner_radius(const RollerBearing& bearing);
Length outer_radius(const RollerBearing& bearing);

/// Distance of the groove centres when the ball just touches: A_0 = (2 f - 1) D_w.
Length groove_centre_distance(const BallBearing& bearing);

/// Mean entrainment speed of both contacts: the speed that draws oil into them.
///
///     u = |omega| (d_m^2 - D_w^2 cos^2 alpha)/(4 d_m)          [m/s]
///
/// Sign: never negative.
///
/// Validity  pure rolling; omega is the speed of one ring against the other.
/// Source    B. J. Hamrock, Lubrication of Machine Elements, NASA RP-1126 (1984).
Speed entrainment_speed(const BallBearing& bearing, AngularVelocity omega);
Speed entrainment_speed(const RollerBearing& bearing, AngularVelocity omega);

}  // namespace ohmdrag::bearing

#pragma once

#include <optional>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

/// What sets a bearing's friction; factors of the kind of bearing and of its lubrication.
struct PalmgrenConstants {
  double torque_factor;         ///< f0, 1.5-2 for a deep-groove ball bearing in an oil bath
  double load_torque_factor;    ///< z (balls), f1 (rollers)
  double load_torque_exponent;  ///< y; 0 for rollers
  Length pitch_diameter;        ///< d_m
  Force static_rating;          ///< C0
};

struct FrictionTorque {
  Torque viscous;  ///< M0
  Torque load;     ///< M1
  Torque total() const { return viscous + load; }
};

/// By what the viscous torque of a bearing goes with speed and oil: (nu n)^(2/3), and 160 below
/// nu n = 2000 mm2/s 1/min; see palmgren_torque().
/// \param power  (nu n)^(2/3)
constexpr double viscous_scale(double power) {
  constexpr double least_power = 158.74010519681994;  // 2000^(2/3)
  return power < least_power ? 160.0 : power;
}

/// Friction torque of a deep-groove ball bearing without integral seals (Palmgren).
///
///     M0 = 1e-7 f0 (nu n)^(2/3) d_m^3       nu n >= 2000
///     M0 = 160e-7 f0 d_m^3                  nu n <  2000      [N mm; mm2/s, 1/min, mm]
///     M1 = z (P0/C0)^y P1 d_m               [N mm]
///     P1 = max(3 F_a - 0.1 F_r, F_r),  P0 = max(F_r, 0.6 F_r + 0.5 F_a)
///
/// Sign: opposes the rotation; returned positive for either direction.
///
/// Validity  flooded or normal bath, n d_m well below 1e6 mm/min: outside_palmgren_speed().
/// Limits    M0 falls by 0.79 % at nu n = 2000: part of the published method. At rest both parts
///           are zero: no motion, no loss. Break-away torque, up to twice the running torque, is
///           not in this law.
/// Accuracy  +-50 % on f0.
/// Source    A. Palmgren, Ball and Roller Bearing Engineering, 3rd ed. 1959; T. A. Harris, M. N.
///           Kotzalas, Essential Concepts of Bearing Technology, 5th ed., CRC 2006. The form of P1
///           and P0 is from memory.
///
/// \param nu      kinematic viscosity at operating temperature, > 0   [m2/s]
/// \param omega   shaft speed                                         [rad/s]
/// \param radial  F_r, its magnitude counts                          [N]
/// \param axial   F_a, its magnitude counts                          [N]
/// \throws std::invalid_argument if viscosity, pitch diameter or static rating is not positive.
FrictionTorque palmgren_torque(const PalmgrenConstants& bearing, KinematicViscosity nu,
                               AngularVelocity omega, Force radial, Force axial);

/// The same for a cylindrical roller bearing: M1 = f1 F_r d_m, no axial load on its flanges.
FrictionTorque cylindrical_roller_torque(const PalmgrenConstants& bearing, KinematicViscosity nu,
                                         AngularVelocity omega, Force radial);

/// Sliding of roller ends on the flanges of a cylindrical roller bearing under axial load, to be
/// added to the two parts above.
///
///     M2 = f2 |F_a| d_m        [N mm]
///
/// Validity  rollers guided by flanges on both rings, axial load well below the radial load.
/// Limits    no axial load: 0. Independent of speed; the caller leaves it out at rest.
/// Source    form of ISO/TR 14179-2 and of T. A. Harris, M. N. Kotzalas (as above), from memory; f2
///           0.002 to 0.009 likewise.
/// \throws std::invalid_argument unless factor >= 0 and pitch diameter > 0.
Torque flange_torque(double flange_factor, Length pitch_diameter, Force axial);

/// Friction torque of a single-row tapered roller bearing (Palmgren).
///
///     M0 as for balls;  M1 = f1 P1 d_m,  P1 = max(2 Y |F_a|, |F_r|)        [N mm]
///
/// F_a is what the bearing really carries, with what its own cone angle induces. ISO/TR 14179-2
/// writes the same laws in N m (all factors times 1e-3).
///
/// Validity, limits, accuracy: as palmgren_torque; sliding at the large rib is in f1.
/// Source    as palmgren_torque; P1 and the usual f0 = 4, f1 = 0.0004 to 0.0005 from memory.
///
/// \param axial_factor  Y of the bearing's dynamic equivalent load, > 0
/// \throws std::invalid_argument as palmgren_torque, and unless Y is positive.
FrictionTorque tapered_roller_torque(const PalmgrenConstants& bearing, double axial_factor,
                                     KinematicViscosity nu, AngularVelocity omega, Force radial,
                                     Force axial);

/// n d_m above 1e6 mm/min, where the law was not made for.
std::optional<numerics::RangeFlag> outside_palmgren_speed(AngularVelocity omega,
                                                          Length pitch_diameter);

}  // namespace ohmdrag::bearing

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

/// n d_m above 1e6 mm/min, where the law was not made for.
std::optional<numerics::RangeFlag> outside_palmgren_speed(AngularVelocity omega,
                                                          Length pitch_diameter);

}  // namespace ohmdrag::bearing

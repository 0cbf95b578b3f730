#include "ohmdrag/bearing/friction_torque.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/bearing/rating_life.hpp"

namespace ohmdrag::bearing {

namespace {

constexpr double newton_millimetre = 1e-3;  // N m

Torque viscous_torque(const PalmgrenConstants& bearing, KinematicViscosity nu,
                      AngularVelocity omega) {
  if (!(nu > KinematicViscosity{}))
    throw std::invalid_argument("bearing friction: viscosity must be positive");
  if (!(bearing.pitch_diameter > Length{}))
    throw std::invalid_argument("bearing friction: pitch diameter must be positive");
  if (!(bearing.static_rating > Force{}))
    throw std::invalid_argument("bearing friction: static rating must be positive");
  const double diameter_mm = bearing.pitch_diameter.value() * 1e3;
  const double speed_number = in_mm2_per_s(nu) * std::abs(in_rpm(omega));
  const double scale = viscous_scale(std::cbrt(speed_number * speed_number));
  return Torque::from_value(newton_millimetre * 1e-7 * bearing.torque_factor * scale * diameter_mm *
                            diameter_mm * diameter_mm);
}

}  // namespace

FrictionTorque palmgren_torque(const PalmgrenConstants& bearing, KinematicViscosity nu,
                               AngularVelocity omega, Force radial, Force axial) {
  const Torque viscous = viscous_torque(bearing, nu, omega);
  if (omega == AngularVelocity{}) return {.viscous = Torque{}, .load = Torque{}};
  const double radial_N = std::abs(radial.value());
  const double axial_N = std::abs(axial.value());
  const Force friction_load = Force::from_value(std::max(3.0 * axial_N - 0.1 * radial_N, radial_N));
  const double load_share = deep_groove_static_load(radial, axial) / bearing.static_rating;
  const double factor =
      bearing.load_torque_factor * std::pow(load_share, bearing.load_torque_exponent);
  return {.viscous = viscous, .load = torque_of(factor * friction_load, bearing.pitch_diameter)};
}

FrictionTorque cylindrical_roller_torque(const PalmgrenConstants& bearing, KinematicViscosity nu,
                                         AngularVelocity omega, Force radial) {
  const Torque viscous = viscous_torque(bearing, nu, omega);
  if (omega == AngularVelocity{}) return {.viscous = Torque{}, .load = Torque{}};
  const Force friction_load = cylindrical_roller_equivalent_load(radial);
  return {.viscous = viscous,
          .load = torque_of(bearing.load_torque_factor * friction_load, bearing.pitch_diameter)};
}

Torque flange_torque(double flange_factor, Length pitch_diameter, Force axial) {
  if (!(flange_factor >= 0.0))
    throw std::invalid_argument("bearing friction: flange factor must not be negative");
  if (!(pitch_diameter > Length{}))
    throw std::invalid_argument("bearing friction: pitch diameter must be positive");
  return torque_of(flange_factor * Force::from_value(std::abs(axial.value())), pitch_diameter);
}

FrictionTorque tapered_roller_torque(const PalmgrenConstants& bearing, double axial_factor,
                                     KinematicViscosity nu, AngularVelocity omega, Force radial,
                                     Force axial) {
  const Torque viscous = viscous_torque(bearing, nu, omega);
  if (!(axial_factor > 0.0))
    throw std::invalid_argument("bearing friction: axial factor must be positive");
  if (omega == AngularVelocity{}) return {.viscous = Torque{}, .load = Torque{}};
  const Force friction_load = Force::from_value(
      std::max(2.0 * axial_factor * std::abs(axial.value()), std::abs(radial.value())));
  return {.viscous = viscous,
          .load = torque_of(bearing.load_torque_factor * friction_load, bearing.pitch_diameter)};
}

std::optional<numerics::RangeFlag> outside_palmgren_speed(AngularVelocity omega,
                                                          Length pitch_diameter) {
  constexpr double limit_mm_rpm = 1e6;
  const double speed_mm_rpm = std::abs(in_rpm(omega)) * pitch_diameter.value() * 1e3;
  if (speed_mm_rpm <= limit_mm_rpm) return std::nullopt;
  return numerics::RangeFlag{.formula = "bearing friction torque",
                             .quantity = "speed times pitch diameter [mm/min]",
                             .value = speed_mm_rpm,
                             .low = 0.0,
                             .high = limit_mm_rpm};
}

}  // namespace ohmdrag::bearing

#include "ohmdrag/bearing/geometry.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::bearing {

namespace {

ContactRadii radii(const BallBearing& bearing, double ring_sign, double contact_angle) {
  const Length ball = bearing.ball_diameter;
  const double f = bearing.conformity;
  return {.rolling = 0.5 * ball * (1.0 + ring_sign * diameter_ratio(bearing, contact_angle)),
          .transverse = f * ball / (2.0 * f - 1.0)};
}

double diameter_ratio(const RollerBearing& bearing) {
  return bearing.roller_diameter / bearing.pitch_diameter * std::cos(bearing.contact_angle);
}

Speed entrainment(Length pitch_diameter, double gamma, AngularVelocity omega) {
  const AngularVelocity magnitude = AngularVelocity::from_value(std::abs(omega.value()));
  return rim_speed(magnitude, 0.25 * pitch_diameter * (1.0 - gamma * gamma));
}

}  // namespace

void require_valid(const BallBearing& bearing) {
  if (!(bearing.balls >= 3))
    throw std::invalid_argument("ball bearing: at least three balls are needed");
  if (!(bearing.ball_diameter > Length{}))
    throw std::invalid_argument("ball bearing: ball diameter must be positive");
  if (!(bearing.pitch_diameter > bearing.ball_diameter))
    throw std::invalid_argument("ball bearing: pitch diameter must exceed the ball diameter");
  if (!(bearing.conformity > 0.5))
    throw std::invalid_argument("ball bearing: conformity must exceed 0.5");
  if (!(bearing.contact_angle >= 0.0 && bearing.contact_angle < 0.5 * std::numbers::pi))
    throw std::invalid_argument("ball bearing: contact angle must be in [0, 90) degrees");
  if (!(bearing.clearance >= Length{}))
    throw std::invalid_argument("ball bearing: clearance must not be negative");
}

void require_valid(const RollerBearing& bearing) {
  if (!(bearing.rollers >= 3))
    throw std::invalid_argument("roller bearing: at least three rollers are needed");
  if (!(bearing.roller_diameter > Length{} && bearing.roller_length > Length{}))
    throw std::invalid_argument("roller bearing: roller diameter and length must be positive");
  if (!(bearing.pitch_diameter > bearing.roller_diameter))
    throw std::invalid_argument("roller bearing: pitch diameter must exceed the roller diameter");
  if (!(bearing.contact_angle >= 0.0 && bearing.contact_angle < 0.5 * std::numbers::pi))
    throw std::invalid_argument("roller bearing: contact angle must be in [0, 90) degrees");
}

double diameter_ratio(const BallBearing& bearing, double contact_angle) {
  return bearing.ball_diameter / bearing.pitch_diameter * std::cos(contact_angle);
}

ContactRadii inner_radii(const BallBearing& bearing, double contact_angle) {
  return radii(bearing, -1.0, contact_angle);
}

ContactRadii outer_radii(const BallBearing& bearing, double contact_angle) {
  return radii(bearing, 1.0, contact_angle);
}

Length groove_centre_distance(const BallBearing& bearing) {
  return (2.0 * bearing.conformity - 1.0) * bearing.ball_diameter;
}

Length inner_radius(const RollerBearing& bearing) {
  return 0.5 * bearing.roller_diameter * (1.0 - diameter_ratio(bearing));
}

Length outer_radius(const RollerBearing& bearing) {
  return 0.5 * bearing.roller_diameter * (1.0 + diameter_ratio(bearing));
}

Speed entrainment_speed(const BallBearing& bearing, AngularVelocity omega) {
  return entrainment(bearing.pitch_diameter, diameter_ratio(bearing, bearing.contact_angle), omega);
}

Speed entrainment_speed(const RollerBearing& bearing, AngularVelocity omega) {
  return entrainment(bearing.pitch_diameter, diameter_ratio(bearing), omega);
}

}  // namespace ohmdrag::bearing

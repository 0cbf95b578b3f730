#include "ohmdrag/duty/vehicle.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::duty {

namespace {

void require_gearing(double ratio, Length circumference) {
  if (!(ratio > 0.0 && circumference > Length{}))
    throw std::invalid_argument("shaft ratio and rolling circumference must be positive");
}

/// Takes exactly `digits` digits off the front of a code; -1 if there are not as many.
int digits_off(std::string_view& code, std::size_t digits) {
  if (code.size() < digits) return -1;
  int value = 0;
  for (const char c : code.substr(0, digits)) {
    if (c < '0' || c > '9') return -1;
    value = 10 * value + (c - '0');
  }
  code.remove_prefix(digits);
  return value;
}

bool letter_off(std::string_view& code, char letter) {
  if (!code.starts_with(letter)) return false;
  code.remove_prefix(1);
  return true;
}

}  // namespace

Tyre tyre_from_code(std::string_view code) {
  std::string_view rest = code;
  const int width_mm = digits_off(rest, 3);
  const bool slash = letter_off(rest, '/');
  const int aspect_percent = digits_off(rest, 2);
  while (letter_off(rest, ' ')) continue;
  const bool radial = letter_off(rest, 'R');
  const int rim_in = digits_off(rest, 2);
  double half_in = 0.0;
  if (rest == ".5") {
    half_in = 0.5;
    rest = {};
  }
  if (!(width_mm > 0 && slash && aspect_percent > 0 && radial && rim_in > 0 && rest.empty()))
    throw std::invalid_argument(
        fmt::format("tyre code \"{}\": expected width/aspect Rrim, as in \"215/65 R16\"", code));
  return {.section_width = Length::from_value(width_mm * 1e-3),
          .aspect_ratio = aspect_percent * 0.01,
          .rim_diameter = Length::from_value((rim_in + half_in) * 25.4e-3)};
}

Length rolling_circumference(const Tyre& tyre) {
  if (!(tyre.section_width > Length{} && tyre.aspect_ratio > 0.0 && tyre.rim_diameter > Length{}))
    throw std::invalid_argument("tyre sizes must be positive");
  const Length diameter = 2.0 * tyre.aspect_ratio * tyre.section_width + tyre.rim_diameter;
  return Length::from_value(std::round(3.05 * diameter.value() * 1e3) * 1e-3);
}

Length rolling_radius(Length rolling_circumference) {
  require_gearing(1.0, rolling_circumference);
  return rolling_circumference / (2.0 * std::numbers::pi);
}

AngularVelocity shaft_speed(Speed v, double ratio, Length rolling_circumference) {
  require_gearing(ratio, rolling_circumference);
  return ratio * turning_speed(v, rolling_radius(rolling_circumference));
}

Speed road_speed(AngularVelocity omega, double ratio, Length rolling_circumference) {
  require_gearing(ratio, rolling_circumference);
  return rim_speed(omega, rolling_radius(rolling_circumference)) / ratio;
}

Torque shaft_torque(Force wheel_force, double ratio, Length rolling_circumference) {
  require_gearing(ratio, rolling_circumference);
  return torque_of(wheel_force, rolling_radius(rolling_circumference)) / ratio;
}

Force road_force(const RoadLoad& load, Speed v) {
  if (!(v >= Speed{})) throw std::invalid_argument("road load: speed must not be negative");
  return load.f0 + load.f1 * v + load.f2 * v * v;
}

RoadLoad road_load_from_us(double a_lbf, double b_lbf_per_mph, double c_lbf_per_mph2) {
  constexpr double newton_per_lbf = 0.45359237 * 9.80665;
  constexpr double mps_per_mph = 0.44704;
  return {.f0 = Force::from_value(a_lbf * newton_per_lbf),
          .f1 = RoadLoadLinear::from_value(b_lbf_per_mph * newton_per_lbf / mps_per_mph),
          .f2 = RoadLoadQuadratic::from_value(c_lbf_per_mph2 * newton_per_lbf /
                                              (mps_per_mph * mps_per_mph))};
}

RoadLoad road_load_from_mass(Mass mass, double rolling, Area drag_area, Density air) {
  if (!(mass > Mass{} && rolling >= 0.0 && drag_area >= Area{} && air > Density{}))
    throw std::invalid_argument(
        "road load: mass and air density must be positive, coefficients not negative");
  const auto gravity = Acceleration::from_value(9.80665);
  return {.f0 = rolling * mass * gravity,
          .f1 = RoadLoadLinear{},
          .f2 = RoadLoadQuadratic(0.5 * air * drag_area)};
}

Force wheel_force(const VehicleData& vehicle, Speed v0, Speed v1, Time dt) {
  if (!(dt > Time{} && vehicle.test_mass > Mass{} && vehicle.rotating_mass_factor >= 1.0))
    throw std::invalid_argument(
        "wheel force: step and mass must be positive, the rotating mass factor 1 or more");
  if (!(v0 >= Speed{} && v1 >= Speed{}))
    throw std::invalid_argument("wheel force: speeds must not be negative");
  const Acceleration a = (v1 - v0) / dt;
  return road_force(vehicle.road_load, 0.5 * (v0 + v1)) +
         vehicle.rotating_mass_factor * vehicle.test_mass * a;
}

}  // namespace ohmdrag::duty

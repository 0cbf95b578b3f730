#include "ohmdrag/contact/lip_wear.hpp"

#include <boost/units/cmath.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

double line_wear_m2(WearRate wear_rate, LineForce line_force, Length way) {
  require(wear_rate.value() >= 0.0, "wear: the wear rate must not be negative");
  require(line_force.value() >= 0.0, "wear: the line force must not be negative");
  require(way.value() >= 0.0, "wear: the sliding way must not be negative");
  return wear_rate.value() * line_force.value() * way.value();
}

bool is_wedge_angle(double angle_rad) {
  return angle_rad > 0.0 && angle_rad < 0.5 * std::numbers::pi;
}

}  // namespace

Volume worn_volume(WearRate wear_rate, Force load, Length way) {
  require(wear_rate.value() >= 0.0, "wear: the wear rate must not be negative");
  require(load.value() >= 0.0, "wear: the load must not be negative");
  require(way.value() >= 0.0, "wear: the sliding way must not be negative");
  return wear_rate * load * way;
}

Mass debris_mass(Density density, WearRate wear_rate, Force load, Length way) {
  require(density.value() > 0.0, "wear: the density of the debris must be positive");
  return density * worn_volume(wear_rate, load, way);
}

Speed wear_depth_rate(WearRate wear_rate, Pressure pressure, Speed surface_speed) {
  require(wear_rate.value() >= 0.0, "wear: the wear rate must not be negative");
  require(pressure.value() >= 0.0, "wear: the pressure must not be negative");
  require(!std::isnan(surface_speed.value()), "wear: the surface speed is not a number");
  return wear_rate * pressure * abs(surface_speed);
}

Time wear_out_time(Length wear_length, WearRate wear_rate, Pressure pressure, Speed surface_speed) {
  require(wear_length.value() >= 0.0, "wear: the wear length must not be negative");
  const Speed rate = wear_depth_rate(wear_rate, pressure, surface_speed);
  if (rate == Speed{}) return Time::from_value(std::numeric_limits<double>::infinity());
  return wear_length / rate;
}

double width_per_depth(const LipEdge& edge) {
  require(is_wedge_angle(edge.air_angle_rad) && is_wedge_angle(edge.oil_angle_rad),
          "lip edge: both angles must lie between 0 and 90 degrees");
  require(edge.new_width.value() >= 0.0, "lip edge: the new flat must not be negative");
  return 1.0 / std::tan(edge.air_angle_rad) + 1.0 / std::tan(edge.oil_angle_rad);
}

Length worn_width(const LipEdge& edge, WearRate wear_rate, LineForce line_force, Length way) {
  const double new_m = edge.new_width.value(), per_depth = width_per_depth(edge);
  return Length::from_value(
      std::sqrt(new_m * new_m + 2.0 * per_depth * line_wear_m2(wear_rate, line_force, way)));
}

Length radial_wear(const LipEdge& edge, Length width) {
  const double per_depth = width_per_depth(edge);
  require(width >= edge.new_width, "lip edge: worn width must not be below that of the new flat");
  return (width - edge.new_width) / per_depth;
}

Length groove_depth(WearRate shaft_wear_rate, LineForce line_force, Length width, Length way) {
  require(width.value() > 0.0, "wear: the contact width must be positive");
  return Length::from_value(line_wear_m2(shaft_wear_rate, line_force, way) / width.value());
}

Length groove_depth(WearRate shaft_wear_rate, const LipEdge& edge, WearRate lip_wear_rate,
                    LineForce line_force, Length way) {
  const Length width = worn_width(edge, lip_wear_rate, line_force, way);
  const Length mean_width = 0.5 * (width + edge.new_width);
  // (b - b_0)/(K k) = F' s / [(b + b_0)/2]: the form that also holds for a lip that does not wear.
  return groove_depth(shaft_wear_rate, line_force, mean_width, way);
}

}  // namespace ohmdrag::contact

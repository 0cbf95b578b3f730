#include "ohmdrag/contact/electrical.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

ResistanceResult at_force_ratio(const DryResistance& law, double x, double parallel,
                                std::string_view quantity, double force, double reference) {
  const double q = law.count_exponent;
  const double m = law.film_exponent;
  if (!(q >= 0.0 && q <= 1.0 && m >= 0.0 && m <= 1.0))
    throw std::invalid_argument("dry resistance: exponents must lie between 0 and 1");
  if (!(law.bulk.value() >= 0.0 && law.film.value() >= 0.0 &&
        law.bulk.value() + law.film.value() > 0.0))
    throw std::invalid_argument(
        "dry resistance: bulk and film must not be negative, and not both zero");

  const double m_eff = m + q * (1.0 - m);  // more contacts, each at less force
  ResistanceResult result{
      .value = (law.bulk * std::pow(x, -q) + law.film * std::pow(x, -m_eff)) * parallel,
      .flags = {}};
  if (const auto flag = numerics::flag_outside("resistance of a dry contact over force", quantity,
                                               force, reference / 3.0, 3.0 * reference))
    result.flags.push_back(*flag);
  return result;
}

}  // namespace

ResistanceResult ring_resistance(const DryResistance& law, LineForce line_force, Length diameter) {
  if (!(line_force.value() > 0.0 && law.at_line_force.value() > 0.0))
    throw std::invalid_argument("dry resistance: line force and its reference must be positive");
  if (!(diameter.value() > 0.0 && law.at_diameter.value() > 0.0))
    throw std::invalid_argument("dry resistance: diameter and its reference must be positive");
  return at_force_ratio(law, (line_force / law.at_line_force).value(),
                        (law.at_diameter / diameter).value(), "line force, N/m", line_force.value(),
                        law.at_line_force.value());
}

ResistanceResult brush_resistance(const DryResistance& law, Force force) {
  if (!(force.value() > 0.0 && law.at_force.value() > 0.0))
    throw std::invalid_argument("dry resistance: force and its reference must be positive");
  return at_force_ratio(law, (force / law.at_force).value(), 1.0, "force, N", force.value(),
                        law.at_force.value());
}

double running_factor(const RunningResistance& law, Temperature contact, Speed surface_speed) {
  if (!(law.speed_scale.value() > 0.0 && law.speed_exponent >= 0.0))
    throw std::invalid_argument("running resistance: scale positive and exponent not negative");
  const double warm = 1.0 + (law.per_kelvin * (contact - from_celsius(20.0))).value();
  if (!(warm > 0.0))
    throw std::invalid_argument("running resistance: no resistance is left at this temperature");
  if (law.speed_exponent == 0.0) return warm;
  const double ratio = std::abs((surface_speed / law.speed_scale).value());
  return warm * (1.0 + std::pow(ratio, law.speed_exponent));
}

}  // namespace ohmdrag::contact

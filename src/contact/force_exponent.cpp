#include "ohmdrag/contact/force_exponent.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

double exponent_at(const DryResistance& law, double x) {
  const double q = law.count_exponent;
  const double m_eff = law.film_exponent + q * (1.0 - law.film_exponent);
  const double bulk_ohm = law.bulk.value() * std::pow(x, -q);
  const double film_ohm = law.film.value() * std::pow(x, -m_eff);
  return (q * bulk_ohm + m_eff * film_ohm) / (bulk_ohm + film_ohm);
}

}  // namespace

double force_exponent(const DryResistance& law, LineForce line_force) {
  ring_resistance(law, line_force, law.at_diameter);  // refuses what is undefined
  return exponent_at(law, (line_force / law.at_line_force).value());
}

double force_exponent(const DryResistance& law, Force force) {
  brush_resistance(law, force);
  return exponent_at(law, (force / law.at_force).value());
}

std::string force_effect_in_words(double exponent) {
  if (!(exponent >= 0.0))
    throw std::invalid_argument("force on a contact: the exponent must not be negative");
  if (exponent < least_force_exponent)
    return "Force does not set the impedance of this contact; fibre count and films do.";
  return fmt::format("Twice the force leaves {:.0f} % of the resistance of this contact.",
                     100.0 * std::pow(2.0, -exponent));
}

}  // namespace ohmdrag::contact

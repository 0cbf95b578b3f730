#include "ohmdrag/contact/wet_contact.hpp"

#include <cmath>
#include <stdexcept>

#include "ohmdrag/material/permittivity.hpp"

namespace ohmdrag::contact {

double solid_load_share(const MixedFilm& film, double duty) {
  check(FrictionLaw{film});
  if (!(duty >= 0.0)) throw std::invalid_argument("mixed film: the duty must not be negative");
  return std::exp(-std::pow(duty / film.transition_duty, film.load_share_exponent));
}

Capacitance oil_capacitance(double load_share, Length diameter, Length width, Length oil_thickness,
                            double oil_permittivity) {
  if (!(load_share >= 0.0 && load_share <= 1.0 && diameter.value() > 0.0 && width.value() > 0.0 &&
        oil_thickness.value() > 0.0 && oil_permittivity >= 1.0))
    throw std::invalid_argument(
        "oil capacitance: needs a share from 0 to 1, positive lengths and a permittivity of at "
        "least 1");
  const double area_m2 = std::numbers::pi * diameter.value() * width.value();
  return Capacitance::from_value(material::vacuum_permittivity_F_per_m * oil_permittivity *
                                 (1.0 - load_share) * area_m2 / oil_thickness.value());
}

WettedState wetted_ring(const WettedRing& ring, const DryResistance& dry, LineForce line_force,
                        Length diameter, DynamicViscosity viscosity, Speed surface_speed) {
  if (!(ring.residual_oil >= 1.0 && ring.oil_thickness.value() > 0.0 &&
        ring.oil_permittivity >= 1.0))
    throw std::invalid_argument(
        "wetted ring: residual oil and permittivity must be at least 1, the oil film positive");
  if (!(diameter.value() > 0.0))
    throw std::invalid_argument("wetted ring: the diameter must be positive");
  const double duty = duty_parameter(viscosity, surface_speed, line_force);

  WettedState state;
  state.load_share = solid_load_share(ring.film, duty);
  state.friction = mixed_film_point(ring.film, duty).friction;
  state.flags.push_back({.formula = "contact resistance not guaranteed: oil on the contact",
                         .quantity = "oil film, um",
                         .value = 1e6 * ring.oil_thickness.value(),
                         .low = 0.0,
                         .high = 0.0});
  if (const auto flag = outside_mixed_film(duty)) state.flags.push_back(*flag);

  const LineForce on_solid = state.load_share * line_force;
  if (on_solid.value() > 0.0) {
    const ResistanceResult found = ring_resistance(dry, on_solid, diameter);
    const Resistance oily = ring.residual_oil * found.value;
    if (std::isfinite(oily.value())) state.resistance = oily;
    state.flags.insert(state.flags.end(), found.flags.begin(), found.flags.end());
  }

  state.capacitance = oil_capacitance(state.load_share, diameter, ring.film.contact_width,
                                      ring.oil_thickness, ring.oil_permittivity);
  return state;
}

}  // namespace ohmdrag::contact

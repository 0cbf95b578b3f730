#include "ohmdrag/contact/wet_contact.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

// CODATA 2018.
constexpr double vacuum_permittivity_F_m = 8.8541878128e-12;

}  // namespace

double solid_load_share(const MixedFilm& film, double duty) {
  check(FrictionLaw{film});
  if (!(duty >= 0.0)) throw std::invalid_argument("mixed film: the duty must not be negative");
  return std::exp(-std::pow(duty / film.transition_duty, film.load_share_exponent));
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

  const double area_m2 = std::numbers::pi * diameter.value() * ring.film.contact_width.value();
  state.capacitance =
      Capacitance::from_value(vacuum_permittivity_F_m * ring.oil_permittivity *
                              (1.0 - state.load_share) * area_m2 / ring.oil_thickness.value());
  return state;
}

}  // namespace ohmdrag::contact

#pragma once

#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/quantity/literals.hpp"

/// A 40 mm steel shaft with one lip, in numbers that fit on a line: the case that the coupled tests
/// share. Invented; not a product.
namespace ohmdrag::test {

using namespace literals;

inline material::LubricantProperties thin_oil() {
  return {.viscosity = material::Walther(25.0_mm2_s, 5.3_mm2_s, 0.7),
          .density_15 = 835.0_kg_m3,
          .conductivity = 0.135_W_mK,
          .specific_heat = SpecificHeat::from_value(2150.0),
          .permittivity = 2.3,
          .pressure_viscosity = PerPressure::from_value(1.6e-8)};
}

inline component::ShaftContact lip(LineForce line_force, Length position, Length width = 0.2_mm) {
  const Length d = 40.0_mm;
  return {.id = "lip",
          .law = contact::MixedFilm{.boundary_friction = 0.5,
                                    .film_coefficient = 5.5,
                                    .transition_duty = 2e-5,
                                    .load_share_exponent = 0.5,
                                    .contact_width = width},
          .contact_width = width,
          .line_force = line_force,
          .load = contact::radial_load(line_force, d),
          .to_body = contact::body_resistance(d, width, 1.0_mm, 0.25_W_mK),
          .body_in_oil = true,
          .position = position};
}

inline component::ShaftContact ring(LineForce line_force, Length position, double friction = 0.2) {
  const Length d = 40.0_mm;
  return {.id = "ring",
          .law = contact::ConstantFriction{friction},
          .contact_width = 4.0_mm,
          .line_force = line_force,
          .load = contact::radial_load(line_force, d),
          .to_body = contact::body_resistance(d, 4.0_mm, 8.0_mm, 0.2_W_mK),
          .body_in_oil = false,
          .position = position};
}

inline component::ShaftSystem shaft(std::vector<component::ShaftContact> contacts) {
  return {.diameter = 40.0_mm,
          .conductivity = 46.0_W_mK,
          .contacts = std::move(contacts),
          .wet_until = 0.0_mm,
          .oil_side_length = std::nullopt,
          .dry_side_length = std::nullopt,
          .oil_side = contact::FixedFilm{1000.0_W_m2K},
          .dry_side = contact::FixedFilm{40.0_W_m2K},
          .lubricant = thin_oil()};
}

inline const component::Surroundings warm{80.0_degC, 40.0_degC};

}  // namespace ohmdrag::test

#pragma once

#include "component/reference_shaft.hpp"
#include "ohmdrag/contact/shaft_heat.hpp"
#include "ohmdrag/energy/drive_unit.hpp"
#include "ohmdrag/quantity/literals.hpp"

/// An invented drive unit: a lip and a ring on one shaft, a bearing and a stated loss.
namespace ohmdrag::test {

inline component::ShaftContact sample_lip(Length diameter) {
  using namespace literals;
  const LineForce force = 0.08_N_mm;
  return {.id = "seal",
          .law = contact::MixedFilm{.boundary_friction = 0.5,
                                    .film_coefficient = 5.5,
                                    .transition_duty = 2e-5,
                                    .load_share_exponent = 0.5,
                                    .contact_width = 0.15_mm},
          .contact_width = 0.15_mm,
          .line_force = force,
          .load = contact::radial_load(force, diameter),
          .to_body = contact::body_resistance(diameter, 0.15_mm, 1.0_mm, 0.25_W_mK),
          .body_in_oil = true,
          .position = 12.0_mm};
}

inline component::ShaftContact sample_ring(Length diameter) {
  using namespace literals;
  return {.id = "grounding",
          .law = contact::ConstantFriction{0.2},
          .contact_width = 0.5_mm,
          .line_force = 0.015_N_mm,
          .load = contact::radial_load(0.015_N_mm, diameter),
          .to_body = std::nullopt,
          .body_in_oil = false,
          .position = 16.0_mm};
}

inline component::ShaftSystem sample_shaft(std::vector<component::ShaftContact> contacts) {
  using namespace literals;
  return {.diameter = 45.0_mm,
          .conductivity = 46.0_W_mK,
          .contacts = std::move(contacts),
          .wet_until = 12.0_mm,
          .oil_side_length = std::nullopt,
          .dry_side_length = std::nullopt,
          .oil_side = contact::TurningCylinder{0.3, 30.0_K},
          .dry_side = contact::TurningCylinder{1.0, 30.0_K},
          .lubricant = thin_oil()};
}

inline energy::Part constant_torque(const char* id, Torque torque) {
  using namespace literals;
  return {id, energy::StatedPart{0, {torque * 100.0_rad_s, 100.0_rad_s, 0.0}}};
}

inline energy::DriveUnit sample_unit() {
  using namespace literals;
  return {.shafts = {sample_shaft({sample_lip(45.0_mm), sample_ring(45.0_mm)})},
          .parts = {{"seal", energy::ContactPart{0, 0}},
                    {"grounding", energy::ContactPart{0, 1}},
                    {"drive-end", energy::BearingPart{0,
                                                      energy::BallRolling{},
                                                      {.torque_factor = 2.0,
                                                       .load_torque_factor = 5e-4,
                                                       .load_torque_exponent = 0.55,
                                                       .pitch_diameter = 65.0_mm,
                                                       .static_rating = 20000.0_N},
                                                      {{0.0_Nm}, {500.0_N}, {100.0_N}}}},
                    constant_torque("other", 0.02_Nm)}};
}

}  // namespace ohmdrag::test

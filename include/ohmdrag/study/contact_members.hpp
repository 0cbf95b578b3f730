#pragma once

#include "ohmdrag/study/contact_parts.hpp"
#include "ohmdrag/study/material_members.hpp"

/// The numbers of contact_parts.hpp under the names that files use.
namespace ohmdrag::study {

template <Of<MixedFilmEntry> S, class F>
void for_each_member(S& s, F&& f) {
  f("boundary_friction", s.boundary_friction);
  f("film_coefficient", s.film_coefficient);
  f("transition_duty", s.transition_duty);
  f("load_share_exponent", s.load_share_exponent);
}

template <Of<ConstantFrictionEntry> S, class F>
void for_each_member(S& s, F&& f) {
  f("friction", s.friction);
}

template <Of<PtfeFrictionEntry> S, class F>
void for_each_member(S& s, F&& f) {
  f("slow_coefficient", s.slow_coefficient);
  f("middle_coefficient", s.middle_coefficient);
  f("fast_coefficient", s.fast_coefficient);
  f("filled_factor", s.filled_factor);
  f("least_pressure", s.least_pressure);
}

/// Without the entries it takes by name.
template <Of<PadService> S, class F>
void for_each_member(S& s, F&& f) {
  f("deflection", s.deflection);
  f("wear_length", s.wear_length);
}

template <Of<FibreEntry> S, class F>
void for_each_member(S& s, F&& f) {
  f("diameter", s.diameter);
  f("free_length", s.free_length);
  f("young_modulus", s.young_modulus);
  f("density", s.density);
  f("lean_deg", s.lean_deg);
  f("end_factor", s.end_factor);
  f("count", s.count);
  f("packing", s.packing);
  f("share_in_contact", s.share_in_contact);
  f("dynamic_stiffening", s.dynamic_stiffening);
  f("interference", s.interference);
}

template <Of<OilEntry> S, class F>
void for_each_member(S& s, F&& f) {
  f("residual_oil", s.residual_oil);
  f("oil_thickness", s.oil_thickness);
}

template <Of<FlashEntry> S, class F>
void for_each_member(S& s, F&& f) {
  f("spot_radius", s.spot_radius);
  f("spot_pressure", s.spot_pressure);
  f("conductivity", s.conductivity);
  f("density", s.density);
  f("specific_heat", s.specific_heat);
}

/// Without what it takes by name.
template <Of<ElementLimits> S, class F>
void for_each_member(S& s, F&& f) {
  f("temperature_limit", s.temperature);
  f("speed_limit", s.surface_speed);
  f("rotational_speed_limit", s.rotational_speed);
  f("pressure_speed_limit", s.pressure_speed);
  f("installation_width", s.installation_width);
}

}  // namespace ohmdrag::study

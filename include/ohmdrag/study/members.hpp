#pragma once

#include <concepts>
#include <type_traits>

#include "ohmdrag/study/case.hpp"

/// The numbers of the plain structs under the names that files use: one table for whoever reads
/// them, visits them or lists them. `f(name, member)` is called for each, in the order of the
/// struct; a member is an Uncertain<Q> or an optional of one. Works on const and non-const alike.
namespace ohmdrag::study {

template <class S, class T>
concept Of = std::same_as<std::remove_const_t<S>, T>;

template <Of<Lubricant> S, class F>
void for_each_member(S& s, F&& f) {
  f("viscosity_40", s.viscosity_40);
  f("viscosity_100", s.viscosity_100);
  f("viscosity_constant", s.viscosity_constant);
  f("density_15", s.density_15);
  f("pressure_viscosity", s.pressure_viscosity);
  f("conductivity", s.conductivity);
  f("specific_heat", s.specific_heat);
  f("permittivity", s.permittivity);
}

template <Of<LipElement> S, class F>
void for_each_member(S& s, F&& f) {
  f("line_force", s.line_force);
  f("contact_width", s.contact_width);
  f("body_conductivity", s.body_conductivity);
  f("body_reach", s.body_reach);
  f("least_line_force", s.least_line_force);
}

// Of lips, rings and brushes without their parts: see contact_members.hpp. Where fibres make the
// force it is not among the members.

/// Without at_line_force, at_force and at_diameter: which are stated depends on the element.
template <Of<ElementResistance> S, class F>
void for_each_member(S& s, F&& f) {
  f("bulk", s.bulk);
  f("film", s.film);
  f("count_exponent", s.count_exponent);
  f("film_exponent", s.film_exponent);
  f("end_of_service_factor", s.end_of_service_factor);
}

template <Of<ElementResistance::Running> S, class F>
void for_each_member(S& s, F&& f) {
  f("temperature_coefficient", s.temperature_coefficient);
  f("speed_scale", s.speed_scale);
  f("speed_exponent", s.speed_exponent);
}

template <Of<RingElement> S, class F>
void for_each_member(S& s, F&& f) {
  if (!s.fibres) f("line_force", s.line_force);
  f("contact_width", s.contact_width);
  f("body_conductivity", s.body_conductivity);
  f("body_reach", s.body_reach);
}

template <Of<BrushElement> S, class F>
void for_each_member(S& s, F&& f) {
  if (!s.fibres) f("force", s.force);
  f("contact_width", s.contact_width);
  f("holder", s.holder);
  f("section", s.section);
  f("contact_drop", s.contact_drop);
}

template <Of<RuleElement> S, class F>
void for_each_member(S& s, F&& f) {
  f("coefficient", s.coefficient);
}

template <Of<FaceSealElement> S, class F>
void for_each_member(S& s, F&& f) {
  f("inner_radius", s.inner_radius);
  f("outer_radius", s.outer_radius);
  f("boundary_friction", s.boundary_friction);
  f("contact_force", s.contact_force);
  f("lift_off", s.lift_off);
  f("reference_film", s.reference_film);
  f("film_speed", s.film_speed);
  f("least_film", s.least_film);
  f("highest_film", s.highest_film);
  f("gas_pressure", s.gas_pressure);
}

template <Of<StatedElement> S, class F>
void for_each_member(S& s, F&& f) {
  f("power", s.power);
  f("at", s.at);
  f("torque_exponent", s.torque_exponent);
}

/// Without the numbers of teeth, which are counted.
template <Of<GearElement> S, class F>
void for_each_member(S& s, F&& f) {
  f("normal_module", s.normal_module);
  f("pressure_angle_deg", s.pressure_angle_deg);
  f("helix_angle_deg", s.helix_angle_deg);
  f("face_width", s.face_width);
  f("pinion_tip_diameter", s.pinion_tip_diameter);
  f("wheel_tip_diameter", s.wheel_tip_diameter);
  f("centre_distance", s.centre_distance);
  f("roughness", s.roughness);
  f("oil_factor", s.oil_factor);
}

template <Of<MeasuredElement> S, class F>
void for_each_member(S& s, F&& f) {
  f("spread", s.factor);
}

template <Of<NoElement> S, class F>
void for_each_member(S&, F&&) {}

template <Of<BearingType> S, class F>
void for_each_member(S& s, F&& f) {
  f("rolling_elements", s.rolling_elements);
  f("element_diameter", s.element_diameter);
  f("pitch_diameter", s.pitch_diameter);
  f("conformity", s.conformity);
  f("clearance", s.clearance);
  f("dynamic_rating", s.dynamic_rating);
  f("static_rating", s.static_rating);
  f("static_factor", s.static_factor);
  f("torque_factor", s.torque_factor);
  f("load_torque_factor", s.load_torque_factor);
  f("load_torque_exponent", s.load_torque_exponent);
  f("axial_factor", s.axial_factor);
  f("flange_factor", s.flange_factor);
  f("roller_length", s.roller_length);
  f("fatigue_load_limit", s.fatigue_load_limit);
}

template <Of<DischargeConstants> S, class F>
void for_each_member(S& s, F&& f) {
  f("breakdown_field", s.breakdown_field);
  f("fixed_threshold", s.fixed_threshold);
  f("fallen_threshold", s.fallen_threshold);
  f("pulse_credit", s.pulse_credit);
  f("edge_width", s.edge_width);
  f("roughness", s.roughness);
  f("film_factor", s.film_factor);
  f("capacitance_factor", s.capacitance_factor);
  f("line_capacitance_factor", s.line_capacitance_factor);
  f("unloaded_ball", s.unloaded_ball);
  f("rings", s.rings);
  f("loop_inductance", s.loop_inductance);
  f("loop_resistance", s.loop_resistance);
  f("metallic_contact", s.metallic_contact);
  f("fatigue_slope", s.fatigue_slope);
  f("erosion_slope", s.erosion_slope);
}

template <Of<Coating> S, class F>
void for_each_member(S& s, F&& f) {
  f("coating", s.coating);
  f("relative_permittivity", s.relative_permittivity);
  f("seat_diameter", s.seat_diameter);
  f("seat_width", s.seat_width);
}

template <Of<StatedInsulation> S, class F>
void for_each_member(S& s, F&& f) {
  f("capacitance", s.capacitance);
}

template <Of<CeramicElements> S, class F>
void for_each_member(S& s, F&& f) {
  f("capacitance", s.capacitance);
  f("element_capacitance", s.element_capacitance);
}

/// Without the gear of a mesh, whose numbers are those of the [[gear]].
template <Of<PathToFrame> S, class F>
void for_each_member(S& s, F&& f) {
  f("capacitance", s.capacitance);
  f("threshold", s.threshold);
  f("roughness", s.roughness);
  f("young_modulus", s.young_modulus);
  f("poisson", s.poisson);
  f("behind", s.behind);
}

/// [vehicle], without its road load and path.
template <Of<Vehicle> S, class F>
void for_each_member(S& s, F&& f) {
  f("test_mass", s.test_mass);
  f("rotating_mass_factor", s.rotating_mass_factor);
  f("usable_battery", s.usable_battery);
  f("auxiliary_power", s.auxiliary_power);
}

/// The current-density law's constants.
template <Of<DamageLaw> S, class F>
void for_each_current_density_member(S& s, F&& f) {
  f("life_constant_h", s.life_constant_h);
  f("exponent_per_A_mm2", s.exponent_per_A_mm2);
  f("floor_A_mm2", s.floor_A_mm2);
}

}  // namespace ohmdrag::study

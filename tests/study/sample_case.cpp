#include "study/sample_case.hpp"

namespace ohmdrag::test {

study::Seal sample_seal() {
  using namespace literals;
  study::LipElement lip;
  lip.line_force = within_share(0.08_N_mm, 0.2, "contact.lip.line_force");
  lip.contact_width = known(0.15_mm);
  lip.law = study::MixedFilmEntry{known(0.5), times(5.5, 1.4, "contact.lip.film_coefficient"),
                                  known(2e-5), known(0.5)};
  lip.body_conductivity = known(0.25_W_mK);
  lip.body_reach = known(1.0_mm);
  study::Seal seal;
  seal.element = {"lip", "Lip", lip};
  seal.shaft = "rotor";
  seal.position = known(12.0_mm);
  return seal;
}

study::Grounding sample_grounding(Resistance resistance, LineForce force) {
  using namespace literals;
  study::RingElement ring;
  ring.line_force = known(force);
  ring.contact_width = known(0.5_mm);
  ring.law = study::ConstantFrictionEntry{within_share(0.2, 0.3, "contact.ring.friction")};
  ring.body_conductivity = known(0.2_W_mK);
  ring.body_reach = known(1.0_mm);
  ring.resistance.bulk = known(Resistance{});
  ring.resistance.film = known(resistance);
  ring.resistance.at_line_force = known(force);
  ring.resistance.at_diameter = known(45.0_mm);
  ring.resistance.count_exponent = known(0.5);
  ring.resistance.film_exponent = known(0.75);
  ring.resistance.end_of_service_factor = known(3.0);
  study::Grounding grounding;
  grounding.element = {"ring", "Ring", ring};
  grounding.shaft = "rotor";
  grounding.position = known(16.0_mm);
  grounding.line_force = known(force);
  grounding.path = study::StatedPath{known(10.0_nH)};
  return grounding;
}

study::Variant sample_variant(const char* id, std::optional<study::Grounding> grounding) {
  study::Variant variant;
  variant.id = id;
  variant.title = id;
  variant.seal = sample_seal();
  variant.grounding = std::move(grounding);
  return variant;
}

study::Bearing sample_bearing() {
  using namespace literals;
  study::Bearing bearing;
  bearing.id = "drive-end";
  bearing.shaft = "rotor";
  bearing.type.id = "generic";
  bearing.type.rolling_elements = known(9.0);
  bearing.type.element_diameter = known(11.906_mm);
  bearing.type.pitch_diameter = known(60.0_mm);
  bearing.type.conformity = known(0.52);
  bearing.type.clearance = known(10.0_um);
  bearing.type.dynamic_rating = known(29101.0_N);
  bearing.type.static_rating = known(17861.0_N);
  bearing.type.static_factor = known(14.0);
  bearing.type.torque_factor = within_share(2.0, 0.5, "bearing.generic.torque_factor");
  bearing.type.load_torque_factor = known(5e-4);
  bearing.type.load_torque_exponent = known(0.55);
  bearing.young_modulus = known(206.0_GPa);
  bearing.poisson = known(0.3);
  bearing.load_torque = {Torque{}};
  bearing.radial = {known(900.0_N)};
  bearing.axial = {known(150.0_N)};
  return bearing;
}

study::PathToFrame sample_mesh(const char* id, Capacitance behind) {
  using namespace literals;
  study::GearElement gear;
  gear.pinion_teeth = 25;
  gear.wheel_teeth = 80;
  gear.normal_module = known(2.0_mm);
  gear.pressure_angle_deg = known(20.0);
  gear.helix_angle_deg = known(20.0);
  gear.face_width = known(30.0_mm);
  gear.roughness = known(0.4_um);
  gear.oil_factor = known(1.0);
  study::PathToFrame path;
  path.id = id;
  path.shaft = "rotor";
  path.kind = study::PathToFrame::Kind::gear_mesh;
  path.gear = gear;
  path.roughness = known(0.1_um);
  path.young_modulus = known(206.0_GPa);
  path.poisson = known(0.3);
  path.behind = known(behind);
  return path;
}

study::Case sample_case() {
  using namespace literals;
  study::Case c;
  c.title = "Sample";
  c.baseline = "plain";
  c.seed = 4;
  c.samples = 40;
  c.service.years = known(10.0);
  c.sump.lubricant = {"oil",
                      "Oil",
                      within_share(25.0_mm2_s, 0.05, "lubricant.oil.viscosity_40"),
                      known(5.3_mm2_s),
                      known(0.7),
                      known(835.0_kg_m3),
                      known(PerPressure::from_value(1.6e-8)),
                      known(0.135_W_mK),
                      known(SpecificHeat::from_value(2150.0)),
                      known(2.3)};
  c.sump.heat_capacity = known(12000.0_J_K);
  c.sump.conductance = known(12.0_W_K);
  c.sump.ambient = known(23.0_degC);
  c.sump.other_heat = known(0.0_W);
  study::Shaft shaft;
  shaft.id = "rotor";
  shaft.ratio = known(1.0);
  shaft.diameter = known(45.0_mm);
  shaft.conductivity = known(46.0_W_mK);
  shaft.wetted_factor = known(0.3);
  shaft.free_rise = known(30.0_K);
  shaft.dry_side_temperature = known(60.0_degC);
  c.shafts = {shaft};
  study::Inverter inverter;
  inverter.dc_link = known(800.0_V);
  inverter.switching_frequency = known(12.0_kHz);
  inverter.rise_time = known(62.5_ns);
  inverter.shaft = "rotor";
  inverter.modulation_at = {0.0_rpm, 9000.0_rpm};
  inverter.modulation_index = {0.02, 0.95};
  c.inverter = inverter;
  c.coupling = study::Coupling{"rotor", within_share(110.0_pF, 0.3, "coupling.winding_rotor"),
                               known(600.0_pF)};
  c.discharge.breakdown_field = times(10.0_V_um, 3.7, "discharge.breakdown_field");
  c.discharge.fixed_threshold = known(10.0_V);
  c.discharge.fallen_threshold = known(0.76);
  c.discharge.pulse_credit = known(0.3_us);
  c.discharge.edge_width = known(0.7);
  c.discharge.roughness = known(0.06_um);
  c.discharge.film_factor = known(1.0);
  c.discharge.capacitance_factor = known(3.5);
  c.discharge.loop_inductance = known(100.0_nH);
  c.discharge.loop_resistance = known(5.0_ohm);
  c.discharge.fatigue_slope = known(1.5);
  c.discharge.erosion_slope = known(2.0);
  c.bearings = {sample_bearing()};
  study::OperatingPoint point;
  point.id = "running";
  point.shaft_speed = known(6000.0_rpm);
  point.shaft = "rotor";
  point.oil_temperature = known(70.0_degC);
  c.points = {point};
  study::Duty duty;
  duty.id = "shift";
  duty.shaft_speed = known(6000.0_rpm);
  duty.shaft = "rotor";
  duty.hours_per_year = known(4000.0_h);
  duty.oil_temperature = known(70.0_degC);
  c.duties = {duty};
  c.variants = {sample_variant("plain", std::nullopt),
                sample_variant("kiloohm", sample_grounding(3000.0_ohm, 0.006_N_mm)),
                sample_variant("ohm", sample_grounding(1.0_ohm, 0.015_N_mm))};
  return c;
}

}  // namespace ohmdrag::test

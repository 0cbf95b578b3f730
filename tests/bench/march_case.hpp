#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <vector>

#include "ohmdrag/energy/wide_march.hpp"
#include "ohmdrag/quantity/literals.hpp"

/// What the benchmarks march: a lip on a mixed film in oil and a dry ring on one shaft, fins to
/// both ends, heat into the sump, a cold start. Invented figures; every input moves with the
/// sample.
namespace ohmdrag::bench {

using namespace literals;

/// What differs from sample to sample.
struct Inputs {
  double diameter_m, shaft_W_mK;
  double lip_force_N_m, lip_width_m, boundary_friction, film_coefficient, transition_duty;
  double load_share_exponent, lip_W_mK, lip_reach_m, elastic_share;
  double ring_force_N_m, ring_width_m, ring_friction, ring_body_K_W, ring_after_lip_m;
  double oil_side_m, dry_side_m, wetted_factor, free_rise_K;
  double nu_40_mm2_s, nu_100_mm2_s, density_15_kg_m3;
  double capacity_J_K, conductance_W_K, air_stream_W_K, other_heat_W;
  double start_degC, ambient_degC, dry_degC;
};

struct Column {
  const char* name;
  double Inputs::*member;
  double middle;
  double half_width;
};

constexpr std::array columns{Column{"diameter_m", &Inputs::diameter_m, 45e-3, 5e-3},
                             Column{"shaft_W_mK", &Inputs::shaft_W_mK, 46.0, 4.0},
                             Column{"lip_force_N_m", &Inputs::lip_force_N_m, 100.0, 40.0},
                             Column{"lip_width_m", &Inputs::lip_width_m, 0.2e-3, 0.06e-3},
                             Column{"boundary_friction", &Inputs::boundary_friction, 0.5, 0.15},
                             Column{"film_coefficient", &Inputs::film_coefficient, 5.5, 1.5},
                             Column{"transition_duty", &Inputs::transition_duty, 2.5e-5, 1.5e-5},
                             Column{"load_share_exponent", &Inputs::load_share_exponent, 0.5, 0.1},
                             Column{"lip_W_mK", &Inputs::lip_W_mK, 0.25, 0.05},
                             Column{"lip_reach_m", &Inputs::lip_reach_m, 1.2e-3, 0.7e-3},
                             Column{"elastic_share", &Inputs::elastic_share, 0.5, 0.1},
                             Column{"ring_force_N_m", &Inputs::ring_force_N_m, 12.0, 6.0},
                             Column{"ring_width_m", &Inputs::ring_width_m, 2e-3, 1.5e-3},
                             Column{"ring_friction", &Inputs::ring_friction, 0.22, 0.08},
                             Column{"ring_body_K_W", &Inputs::ring_body_K_W, 20.0, 10.0},
                             Column{"ring_after_lip_m", &Inputs::ring_after_lip_m, 8e-3, 4e-3},
                             Column{"oil_side_m", &Inputs::oil_side_m, 40e-3, 20e-3},
                             Column{"dry_side_m", &Inputs::dry_side_m, 60e-3, 30e-3},
                             Column{"wetted_factor", &Inputs::wetted_factor, 0.4, 0.3},
                             Column{"free_rise_K", &Inputs::free_rise_K, 30.0, 10.0},
                             Column{"nu_40_mm2_s", &Inputs::nu_40_mm2_s, 25.0, 2.0},
                             Column{"nu_100_mm2_s", &Inputs::nu_100_mm2_s, 5.3, 0.3},
                             Column{"density_15_kg_m3", &Inputs::density_15_kg_m3, 835.0, 10.0},
                             Column{"capacity_J_K", &Inputs::capacity_J_K, 12e3, 4e3},
                             Column{"conductance_W_K", &Inputs::conductance_W_K, 8.0, 3.0},
                             Column{"air_stream_W_K", &Inputs::air_stream_W_K, 6.0, 4.0},
                             Column{"other_heat_W", &Inputs::other_heat_W, 300.0, 200.0},
                             Column{"start_degC", &Inputs::start_degC, 8.0, 15.0},
                             Column{"ambient_degC", &Inputs::ambient_degC, 8.0, 15.0},
                             Column{"dry_degC", &Inputs::dry_degC, 50.0, 40.0}};

/// Evenly spread without chance: multiples of the roots of the primes, cut to their fractions.
inline Inputs inputs_of(std::size_t sample) {
  constexpr std::array<double, columns.size()> primes{2,  3,  5,  7,  11, 13,  17,  19,  23,  29,
                                                      31, 37, 41, 43, 47, 53,  59,  61,  67,  71,
                                                      73, 79, 83, 89, 97, 101, 103, 107, 109, 113};
  Inputs inputs{};
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const double turns = static_cast<double>(sample + 1) * std::sqrt(primes[c]);
    const double share = turns - std::floor(turns);
    inputs.*columns[c].member = columns[c].middle + columns[c].half_width * (2.0 * share - 1.0);
  }
  return inputs;
}

inline component::ShaftContact lip_of(const Inputs& in) {
  const Length d = Length::from_value(in.diameter_m), b = Length::from_value(in.lip_width_m);
  const LineForce force = LineForce::from_value(in.lip_force_N_m);
  return {.id = "lip",
          .law = contact::MixedFilm{.boundary_friction = in.boundary_friction,
                                    .film_coefficient = in.film_coefficient,
                                    .transition_duty = in.transition_duty,
                                    .load_share_exponent = in.load_share_exponent,
                                    .contact_width = b},
          .contact_width = b,
          .line_force = force,
          .load = contact::radial_load(force, d),
          .to_body = contact::body_resistance(d, b, Length::from_value(in.lip_reach_m),
                                              ThermalConductivity::from_value(in.lip_W_mK)),
          .body_in_oil = true,
          .position = 0.0_m,
          .softening = component::Softening{.elastic_share = in.elastic_share,
                                            .modulus = {{from_celsius(-20.0), 2.5},
                                                        {from_celsius(-7.0), 1.5},
                                                        {from_celsius(20.0), 1.0},
                                                        {from_celsius(60.0), 0.75},
                                                        {from_celsius(100.0), 0.6},
                                                        {from_celsius(150.0), 0.5}}}};
}

inline component::ShaftContact ring_of(const Inputs& in) {
  const LineForce force = LineForce::from_value(in.ring_force_N_m);
  return {.id = "ring",
          .law = contact::ConstantFriction{in.ring_friction},
          .contact_width = Length::from_value(in.ring_width_m),
          .line_force = force,
          .load = contact::radial_load(force, Length::from_value(in.diameter_m)),
          .to_body = ThermalResistance::from_value(in.ring_body_K_W),
          .body_in_oil = false,
          .position = Length::from_value(in.ring_after_lip_m)};
}

inline component::ShaftSystem shaft_of(const Inputs& in) {
  const auto nu = [](double mm2_s) { return KinematicViscosity::from_value(1e-6 * mm2_s); };
  const auto rise = TemperatureDifference::from_value(in.free_rise_K);
  return {
      .diameter = Length::from_value(in.diameter_m),
      .conductivity = ThermalConductivity::from_value(in.shaft_W_mK),
      .contacts = {lip_of(in), ring_of(in)},
      .wet_until = 0.0_m,
      .oil_side_length = Length::from_value(in.oil_side_m),
      .dry_side_length = Length::from_value(in.dry_side_m),
      .oil_side = contact::TurningCylinder{in.wetted_factor, rise},
      .dry_side = contact::TurningCylinder{1.0, rise},
      .lubricant = {.viscosity = material::Walther(nu(in.nu_40_mm2_s), nu(in.nu_100_mm2_s), 0.7),
                    .density_15 = Density::from_value(in.density_15_kg_m3),
                    .conductivity = 0.135_W_mK,
                    .specific_heat = SpecificHeat::from_value(2150.0),
                    .permittivity = 2.3,
                    .pressure_viscosity = PerPressure::from_value(1.6e-8)}};
}

inline energy::WideSample sample_of(const Inputs& in) {
  return {.shaft = shaft_of(in),
          .sump = {.node = {.heat_capacity = HeatCapacity::from_value(in.capacity_J_K),
                            .conductance = ThermalConductance::from_value(in.conductance_W_K),
                            .ambient = from_celsius(in.ambient_degC)},
                   .other_heat = Power::from_value(in.other_heat_W),
                   .start = from_celsius(in.start_degC),
                   .air = duty::AirStream{ThermalConductance::from_value(in.air_stream_W_K),
                                          from_kmh(60.0), 0.7}},
          .dry = from_celsius(in.dry_degC)};
}

inline std::vector<energy::Stretch> stretches_of(const char* file) {
  std::ifstream in(file, std::ios::binary);
  if (!in) throw std::runtime_error(std::string("cannot read ") + file);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  const duty::Cycle cycle = duty::cycle_from_csv(text, {file, file, file, {}});
  // Only what the drive does hangs on the vehicle, and the sums here do not look at it.
  const duty::VehicleData vehicle{.test_mass = Mass::from_value(2000.0),
                                  .rotating_mass_factor = 1.03,
                                  .road_load = {.f0 = 200.0_N, .f1 = {}, .f2 = {}}};
  const std::array gearing{energy::Gearing{.ratio = 9.0, .rolling_circumference = 2.1_m}};
  return energy::stretches(duty::steps(cycle, vehicle), gearing);
}

}  // namespace ohmdrag::bench

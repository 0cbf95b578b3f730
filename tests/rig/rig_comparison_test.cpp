#include <catch2/catch.hpp>

#include "ohmdrag/rig/rig_bench.hpp"
#include "ohmdrag/rig/rig_programme.hpp"

using namespace ohmdrag;
using rig::rig_state;

namespace {

/// A dry ring of so many watts at 3000 1/min on 40 mm.
component::ShaftContact dry_ring(const std::string& id, double position_m, double watts) {
  component::ShaftContact ring;
  ring.id = id;
  ring.law = contact::ConstantFriction{0.2};
  ring.contact_width = Length::from_value(3e-3);
  ring.line_force = LineForce::from_value(10.0);
  ring.load = Force::from_value(watts / (0.2 * 0.02 * from_rpm(3000.0).value()));
  ring.to_body = ThermalResistance::from_value(40.0);
  ring.body_in_oil = false;
  ring.position = Length::from_value(position_m);
  return ring;
}

/// Three wear points on a short shaft in air, its end held by a spindle.
rig::RigBench short_shaft(const rig::RigAir& air, double watts = 8.0) {
  return {
      .shaft = {.diameter = Length::from_value(0.04),
                .conductivity = ThermalConductivity::from_value(46.0),
                .contacts = {dry_ring("left", 0.01, watts), dry_ring("middle", 0.02, watts),
                             dry_ring("right", 0.03, watts)},
                .wet_until = {},
                .oil_side_length = Length::from_value(1e-3),
                .dry_side_length = Length::from_value(0.05),
                .oil_side = contact::FixedFilm{HeatTransferCoefficient::from_value(50.0)},
                .dry_side = contact::TurningCylinder{1.0, TemperatureDifference::from_value(40.0)},
                .lubricant = {.viscosity =
                                  material::Walther(KinematicViscosity::from_value(25e-6),
                                                    KinematicViscosity::from_value(5.3e-6), 0.7),
                              .density_15 = Density::from_value(835.0),
                              .conductivity = ThermalConductivity::from_value(0.135),
                              .specific_heat = SpecificHeat::from_value(2150.0),
                              .permittivity = 2.3,
                              .pressure_viscosity = PerPressure::from_value(1.6e-8)}},
      .held = from_celsius(30.0),
      .air = air};
}

double hottest_degC(const rig::RigState& state) {
  double hottest = -300.0;
  for (const auto& contact : state.shaft.contacts)
    hottest = std::max(hottest, in_celsius(contact.contact));
  return hottest;
}

rig::ServiceDose service() {
  return {.hours = Time::from_value(3.6e6 * 4.0),
          .way = Length::from_value(1.2e8),
          .ageing = from_celsius(90.0),
          .pressure = Pressure::from_value(3000.0)};
}
const auto activation = TemperatureDifference::from_value(10825.0);

}  // namespace

TEST_CASE("all heat of a rig goes into its spindle and its air") {
  const auto rpm = GENERATE(500.0, 3000.0, 9000.0);
  const auto bench =
      short_shaft(rig::EnclosedAir{from_celsius(23.0), ThermalConductance::from_value(0.6), {}});
  const rig::RigState state = rig_state(bench, from_rpm(rpm));
  CHECK(state.friction.value() == Approx(3.0 * 8.0 * rpm / 3000.0).epsilon(1e-9));
  // Into the air: the shaft's dry side and the bodies that stand in it.
  double into_air = state.shaft.into_dry_side.value();
  for (const auto& contact : state.shaft.contacts) into_air += contact.into_body.value();
  CHECK(state.into_air.value() == Approx(into_air).epsilon(1e-9));
  CHECK((state.into_held_side + state.into_air).value() ==
        Approx(state.friction.value()).epsilon(1e-12));
  CHECK(state.through_housing.value() ==
        Approx(0.6 * (state.air - from_celsius(23.0)).value()).epsilon(1e-7));
}

TEST_CASE("an enclosure that lets everything through is air of the room") {
  const auto speed = from_rpm(3000.0);
  const auto open = rig_state(short_shaft(rig::MeasuredAir{from_celsius(23.0)}), speed);
  const auto through = rig_state(
      short_shaft(rig::EnclosedAir{from_celsius(23.0), ThermalConductance::from_value(1e9), {}}),
      speed);
  CHECK(hottest_degC(through) == Approx(hottest_degC(open)).epsilon(1e-6));
}

TEST_CASE("a tighter enclosure and more wear points run hotter") {
  const auto speed = from_rpm(3000.0);
  const auto closed = [&](double conductance) {
    return rig_state(short_shaft(rig::EnclosedAir{
                         from_celsius(23.0), ThermalConductance::from_value(conductance), {}}),
                     speed);
  };
  CHECK(closed(0.3).air > closed(1.0).air);
  CHECK(hottest_degC(closed(0.3)) > hottest_degC(closed(1.0)));
  auto one = short_shaft(rig::MeasuredAir{from_celsius(23.0)});
  const double three = hottest_degC(rig_state(one, speed));
  one.shaft.contacts.resize(1);
  CHECK(hottest_degC(rig_state(one, speed)) < three - 5.0);
}

TEST_CASE("a rig at rest in the room is as warm as the room") {
  auto bench =
      short_shaft(rig::EnclosedAir{from_celsius(30.0), ThermalConductance::from_value(0.5), {}});
  const auto state = rig_state(bench, {});
  CHECK(in_celsius(state.air) == Approx(30.0).margin(1e-6));
  CHECK(hottest_degC(state) == Approx(30.0).margin(1e-6));
  CHECK(state.into_air.value() == Approx(0.0).margin(1e-9));
}

TEST_CASE("other heat warms the enclosed air, a cold spindle cools it") {
  const rig::EnclosedAir still{from_celsius(23.0), ThermalConductance::from_value(0.5), {}};
  const rig::EnclosedAir warmed{from_celsius(23.0), ThermalConductance::from_value(0.5),
                                Power::from_value(5.0)};
  CHECK(rig_state(short_shaft(warmed), from_rpm(1000.0)).air >
        rig_state(short_shaft(still), from_rpm(1000.0)).air);
  auto cold = short_shaft(still);
  cold.held = from_celsius(-20.0);
  CHECK(rig_state(cold, {}).air < from_celsius(23.0));
}

TEST_CASE("an enclosure without conductance is refused") {
  CHECK_THROWS_WITH(
      rig_state(short_shaft(rig::EnclosedAir{from_celsius(23.0), {}, {}}), from_rpm(1000.0)),
      Catch::Matchers::Contains("must be positive"));
}

TEST_CASE("the service's own hour is worth an hour") {
  const rig::ServiceDose dose = service();
  const auto own =
      rig::acceleration(dose, {dose.mean_speed(), dose.ageing, dose.pressure}, activation);
  CHECK(own.distance == Approx(1.0).epsilon(1e-12));
  CHECK(own.pressure_velocity == Approx(1.0).epsilon(1e-12));
  CHECK(own.ageing == Approx(1.0).epsilon(1e-12));
  const auto hours = rig::rig_hours(dose, own);
  CHECK(hours.for_distance.value() == Approx(dose.hours.value()));
  CHECK(hours.for_ageing.value() == Approx(dose.hours.value()));
  CHECK(hours.ageing_at_distance == Approx(1.0));
}

TEST_CASE("a programme does the way, the pressure-velocity and the ageing of the service") {
  const rig::ServiceDose dose = service();
  const Pressure on_rig = 1.25 * dose.pressure;
  const Speed speed = rig::speed_of_equal_pressure_velocity(dose, on_rig);
  const auto of = rig::acceleration(dose, {speed, from_celsius(120.0), on_rig}, activation);
  CHECK(of.pressure_velocity == Approx(1.0).epsilon(1e-12));
  const auto hours = rig::rig_hours(dose, of);
  CHECK((speed * hours.for_distance).value() == Approx(dose.way.value()).epsilon(1e-12));
  CHECK(of.ageing * hours.for_ageing.value() == Approx(dose.hours.value()).epsilon(1e-12));
  const Temperature both = rig::temperature_of_equal_ageing(dose, hours.for_distance, activation);
  const auto matched = rig::acceleration(dose, {speed, both, on_rig}, activation);
  CHECK(rig::rig_hours(dose, matched).ageing_at_distance == Approx(1.0).epsilon(1e-12));
}

TEST_CASE("programmes that cannot be are refused") {
  rig::ServiceDose dose = service();
  CHECK_THROWS_AS(rig::temperature_of_equal_ageing(dose, 1e-20 * dose.hours, activation),
                  std::invalid_argument);
  CHECK_THROWS_AS(rig::acceleration(dose, {Speed{}, dose.ageing, dose.pressure}, activation),
                  std::invalid_argument);
  dose.way = {};
  CHECK_THROWS_AS(rig::speed_of_equal_pressure_velocity(dose, Pressure::from_value(1.0)),
                  std::invalid_argument);
}

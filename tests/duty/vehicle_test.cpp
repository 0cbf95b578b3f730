#include <catch2/catch.hpp>
#include <numbers>
#include <string>

#include "ohmdrag/duty/vehicle.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using test::near;
using test::within;

TEST_CASE("a tyre code gives its three sizes", "[duty][derived]") {
  const std::string code = GENERATE("215/65 R16", "215/65R16", "215/65  R16");
  const auto tyre = duty::tyre_from_code(code);
  CHECK_THAT(tyre.section_width, within(215.0_mm, 1e-9_mm));
  CHECK(tyre.aspect_ratio == Approx(0.65).epsilon(1e-15));
  CHECK_THAT(tyre.rim_diameter, within(406.4_mm, 1e-9_mm));
}

TEST_CASE("half-inch rims", "[duty][derived]") {
  CHECK_THAT(duty::tyre_from_code("295/80 R22.5").rim_diameter, within(571.5_mm, 1e-9_mm));
}

TEST_CASE("anything else is no tyre code", "[duty][derived]") {
  const std::string code =
      GENERATE("", "215", "215/65", "215/65 16", "215-65 R16", "2150/65 R16", "215/65 R",
               "215/65 R16C", "215/65 R1 6", " 215/65 R16", "000/65 R16", "215/00 R16",
               "215/65 R00", "215/65 R22.4", "a15/65 R16", "215/-5 R16");
  CAPTURE(code);
  CHECK_THROWS_AS(duty::tyre_from_code(code), std::invalid_argument);
  CHECK_THROWS_WITH(duty::tyre_from_code(code), Contains("\"" + code + "\""));
}

TEST_CASE("shaft speed, road speed and torque belong together", "[duty][derived]") {
  const Length u = 2040.0_mm;
  const auto omega = duty::shaft_speed(60.0_kmh, 9.0, u);
  CHECK_THAT(duty::road_speed(omega, 9.0, u), near(60.0_kmh, 1e-14));
  // What goes in at the shaft comes out at the wheel: T omega = F v.
  const Force f = 261.45_N;
  const Power in = duty::shaft_torque(f, 9.0, u) * omega;
  const Power out = f * (60.0_kmh);
  CHECK_THAT(in, near(out, 1e-14));
  CHECK(duty::shaft_torque(-f, 9.0, u) == -duty::shaft_torque(f, 9.0, u));
  CHECK_THAT(duty::rolling_radius(u),
             near(Length::from_value(2.04 / (2 * std::numbers::pi)), 1e-15));

  CHECK_THROWS_AS(duty::shaft_speed(60.0_kmh, 0.0, u), std::invalid_argument);
  CHECK_THROWS_AS(duty::road_speed(omega, 9.0, Length{}), std::invalid_argument);
  CHECK_THROWS_AS(duty::shaft_torque(f, -1.0, u), std::invalid_argument);
  CHECK_THROWS_AS(duty::rolling_radius(Length{}), std::invalid_argument);
  CHECK_THROWS_AS(duty::rolling_circumference(duty::Tyre{}), std::invalid_argument);
}

TEST_CASE("one turn of the wheel is one circumference", "[duty][derived]") {
  CHECK_THAT(duty::shaft_speed(2.0_m_s, 1.0, 2000.0_mm), near(60.0_rpm, 1e-14));
}

TEST_CASE("wheel force is road load plus inertia", "[duty][derived]") {
  const duty::VehicleData car{.test_mass = 1000.0_kg,
                              .rotating_mass_factor = 1.03,
                              .road_load = {.f0 = 100.0_N,
                                            .f1 = RoadLoadLinear::from_value(2.0),
                                            .f2 = RoadLoadQuadratic::from_value(0.5)}};
  CHECK_THAT(duty::wheel_force(car, 10.0_m_s, 10.0_m_s, 1.0_s), near(170.0_N, 1e-15));
  // 100 + 2 x 11 + 0.5 x 121 + 1.03 x 1000 x 1
  CHECK_THAT(duty::wheel_force(car, 10.0_m_s, 12.0_m_s, 2.0_s), near(1212.5_N, 1e-15));
  CHECK_THAT(duty::wheel_force(car, 12.0_m_s, 10.0_m_s, 2.0_s),
             near(Force::from_value(-847.5), 1e-14));
  CHECK_THROWS_AS(duty::road_force(car.road_load, Speed::from_value(-1.0)), std::invalid_argument);
  CHECK_THROWS_AS(duty::wheel_force(car, 10.0_m_s, 12.0_m_s, 0.0_s), std::invalid_argument);
  CHECK_THROWS_AS(duty::wheel_force(duty::VehicleData{}, 1.0_m_s, 1.0_m_s, 1.0_s),
                  std::invalid_argument);
  CHECK_THROWS_AS(duty::wheel_force(car, Speed::from_value(-1.0), 3.0_m_s, 1.0_s),
                  std::invalid_argument);
}

TEST_CASE("a road load by mass is weight, rolling and air", "[duty][derived]") {
  // 1500 kg x 9.80665 m/s2 x 0.01; 0.5 x 1.2 kg/m3 x 0.6 m2.
  const auto area = Area::from_value(0.6);
  const auto load = duty::road_load_from_mass(1500.0_kg, 0.01, area, 1.2_kg_m3);
  CHECK_THAT(load.f0, near(147.09975_N, 1e-14));
  CHECK(load.f1 == RoadLoadLinear{});
  CHECK_THAT(duty::road_force(load, 30.0_m_s), near(Force(load.f0 + 324.0_N), 1e-14));
  CHECK_THROWS_AS(duty::road_load_from_mass(Mass{}, 0.01, area, 1.2_kg_m3), std::invalid_argument);
  CHECK_THROWS_AS(duty::road_load_from_mass(1500.0_kg, -0.01, area, 1.2_kg_m3),
                  std::invalid_argument);
  CHECK_THROWS_AS(duty::road_load_from_mass(1500.0_kg, 0.01, -area, 1.2_kg_m3),
                  std::invalid_argument);
  CHECK_THROWS_AS(duty::road_load_from_mass(1500.0_kg, 0.01, area, Density{}),
                  std::invalid_argument);
}

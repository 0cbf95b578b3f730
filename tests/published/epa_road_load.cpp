#include <catch2/catch.hpp>

#include "ohmdrag/duty/vehicle.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

// US EPA, light-duty base-year vehicle data, model year 2022, columns etw_lbs, target_coef_a,
// target_coef_b, target_coef_c: the inputs. The forces are our
// arithmetic; pound-force and mile are exact by definition.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using test::within;

TEST_CASE("EPA coefficients in SI", "[published][formula]") {
  struct Row {
    double a, b, c;
    double f0_N, f1_N_per_kmh, f2_N_per_kmh2, power_50mph_hp;
  };
  const auto row =
      GENERATE(Row{34.98, 0.0865, 0.0148, 155.5988, 0.2390857, 0.02541853, 10.174},
               Row{37.17, 0.047, 0.0144, 165.3404, 0.1299078, 0.02473154, 10.069},
               Row{28.15, 0.2892, 0.02009, 125.2174, 0.7993479, 0.03450393, 12.378},
               Row{23.987, 0.29124, 0.016006, 106.6995, 0.8049864, 0.02748979, 10.475});
  CAPTURE(row.a);
  const auto load = duty::road_load_from_us(row.a, row.b, row.c);
  CHECK(load.f0.value() == Approx(row.f0_N).margin(6e-5));
  CHECK(load.f1.value() / 3.6 == Approx(row.f1_N_per_kmh).margin(6e-8));
  CHECK(load.f2.value() / (3.6 * 3.6) == Approx(row.f2_N_per_kmh2).margin(6e-9));
  // Road-load power at 50 mph: (A + 50 B + 2500 C) 50/375 hp, 1 hp = 550 ft lbf/s.
  const Speed v = Speed::from_value(50.0 * 0.44704);
  const Power power = duty::road_force(load, v) * v;
  CHECK(power.value() / 745.69987158 == Approx(row.power_50mph_hp).margin(6e-4));
}

TEST_CASE("EPA coefficients: force, power and energy at constant speed", "[published][formula]") {
  const auto load = test::midsize_car().road_load;
  const Force at_60 = duty::road_force(load, 60.0_kmh);
  CHECK_THAT(at_60, within(261.4506_N, 1e-4_N));
  CHECK_THAT(Power(at_60 * 60.0_kmh), within(4357.510_W, 1e-3_W));
  CHECK(in_Wh_per_km(at_60) == Approx(72.6252).margin(6e-5));
  CHECK_THAT(duty::road_force(load, 90.0_kmh), within(383.007_N, 6e-4_N));
  CHECK_THAT(duty::road_force(load, 120.0_kmh), within(550.316_N, 6e-4_N));
  CHECK(in_Wh_per_km(duty::road_force(load, 120.0_kmh)) == Approx(152.866).margin(6e-4));
}

TEST_CASE("EPA coefficients as rolling coefficient and drag area", "[published][formula]") {
  // Of the first car's F0 and F2 alone, 1.204 kg/m3: F0/(m g) = 0.008231, 2 F2/rho = 0.547 m2.
  const auto car = test::midsize_car();
  const auto load =
      duty::road_load_from_mass(car.test_mass, 0.008231, Area::from_value(0.5472), 1.204_kg_m3);
  CHECK_THAT(load.f0, within(car.road_load.f0, 0.01_N));
  CHECK(load.f1 == RoadLoadLinear{});
  CHECK(load.f2.value() == Approx(car.road_load.f2.value()).epsilon(2e-4));
}

TEST_CASE("inertia of wheels and rotor as a share of the mass", "[published][derived]") {
  // Derived: 1 + (J_wheels + i^2 J_rotor)/(m r^2); 4 x 1.2 kg m2, 0.03 kg m2 at ratio 9.
  const Length r =
      duty::rolling_radius(duty::rolling_circumference(duty::tyre_from_code("235/45 R18")));
  const double inertia_kg_m2 = 4.0 * 1.2 + 9.0 * 9.0 * 0.03;
  const double factor =
      1.0 + inertia_kg_m2 / (test::midsize_car().test_mass.value() * r.value() * r.value());
  CHECK(factor == Approx(1.0356).margin(6e-5));
}

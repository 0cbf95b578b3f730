#include <catch2/catch.hpp>
#include <string>

#include "ohmdrag/duty/trace.hpp"
#include "ohmdrag/duty/vehicle.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

// UN Global Technical Regulation No. 15 (WLTP), working texts of October 2013 and July 2019:
// rolling circumference and speed ratio (section 8), cycle distance, cycle energy demand (annex on
// calculations, section 5).

using namespace ohmdrag;
using namespace ohmdrag::literals;
using test::near;
using test::within;

TEST_CASE("GTR 15: rolling circumference of a tyre", "[published][formula]") {
  struct Row {
    std::string code;
    Length diameter, circumference, radius;
  };
  // Formula of the n/v section; the first tyre is its own example, the figures are our arithmetic.
  const auto row = GENERATE(values<Row>({{"225/45 R17", 634.3_mm, 1935.0_mm, 307.96_mm},
                                         {"205/55 R16", 631.9_mm, 1927.0_mm, 306.69_mm},
                                         {"235/45 R18", 668.7_mm, 2040.0_mm, 324.68_mm},
                                         {"215/60 R17", 689.8_mm, 2104.0_mm, 334.86_mm}}));
  CAPTURE(row.code);
  const auto tyre = duty::tyre_from_code(row.code);
  CHECK_THAT(Length(2.0 * tyre.aspect_ratio * tyre.section_width + tyre.rim_diameter),
             within(row.diameter, 0.001_mm));
  // Whole millimetres: only the binary fraction may differ.
  CHECK_THAT(duty::rolling_circumference(tyre), within(row.circumference, 1e-9_mm));
  CHECK_THAT(duty::rolling_radius(duty::rolling_circumference(tyre)), within(row.radius, 0.006_mm));
}

TEST_CASE("GTR 15: shaft speed per road speed", "[published][formula]") {
  // n/v = ratio 60000 / (U 3.6): ratio 9 on 235/45 R18.
  const Length u = duty::rolling_circumference(duty::tyre_from_code("235/45 R18"));
  CHECK(in_rpm(duty::shaft_speed(1.0_kmh, 9.0, u)) == Approx(73.5294).margin(5e-5));
  CHECK(in_rpm(duty::shaft_speed(60.0_kmh, 9.0, u)) == Approx(4411.76).margin(5e-3));
  CHECK(in_rpm(duty::shaft_speed(60.0_kmh, 1.0, u)) == Approx(490.2).margin(0.05));
}

TEST_CASE("GTR 15: cycle distance by the trapezoid rule", "[published][formula]") {
  const auto cycle = test::wltc_3b();
  CHECK_THAT(duty::totals(cycle).distance, within(23266.278_m, 0.001_m));
  const double phase_m[] = {3094.528, 4755.889, 7161.722, 8254.139};
  for (std::size_t i = 0; i < 4; ++i)
    CHECK_THAT(duty::totals(cycle, cycle.phases[i]).distance,
               within(Length::from_value(phase_m[i]), 0.001_m));
}

TEST_CASE("GTR 15: cycle energy demand", "[published][formula]") {
  struct Row {
    double factor, traction, braking, tolerance;
  };
  // Formula of its section 5 on the WLTC class 3b; Wh/km at the wheel, our arithmetic. The
  // regulation's factor is 1.03; without it energy moves between both signs and the sum stays.
  const auto row =
      GENERATE(Row{1.03, 150.438508, -55.171354, 1e-6}, Row{1.00, 148.280, -53.013, 1e-3});
  const auto steps = duty::steps(test::wltc_3b(), test::midsize_car(row.factor));
  const auto wheel = duty::wheel_energy(steps);
  CHECK(in_Wh_per_km(wheel.traction / wheel.distance) ==
        Approx(row.traction).margin(row.tolerance));
  CHECK(in_Wh_per_km(wheel.braking / wheel.distance) == Approx(row.braking).margin(row.tolerance));
}

TEST_CASE("GTR 15: cycle energy demand of four battery cars", "[published][formula]") {
  struct Row {
    double etw_lb, a, b, c, traction, braking;
  };
  // Coefficients: US EPA, light-duty base-year vehicle data, model year 2022 (etw_lbs,
  // target_coef_a, b, c); energies, Wh/km at the wheel: the regulation's formula, our arithmetic.
  const auto row = GENERATE(Row{4250.0, 34.98, 0.0865, 0.0148, 150.4385, -55.1714},
                            Row{4250.0, 37.17, 0.047, 0.0144, 149.590, -55.150},
                            Row{4250.0, 28.15, 0.2892, 0.02009, 168.071, -52.811},
                            Row{4750.0, 23.987, 0.29124, 0.016006, 161.723, -64.486});
  CAPTURE(row.a);
  const duty::VehicleData car{.test_mass = Mass::from_value(row.etw_lb * 0.45359237),
                              .rotating_mass_factor = 1.03,
                              .road_load = duty::road_load_from_us(row.a, row.b, row.c)};
  const auto wheel = duty::wheel_energy(duty::steps(test::wltc_3b(), car));
  CHECK(in_Wh_per_km(wheel.traction / wheel.distance) == Approx(row.traction).margin(6e-4));
  CHECK(in_Wh_per_km(wheel.braking / wheel.distance) == Approx(row.braking).margin(6e-4));
}

TEST_CASE("GTR 15: net energy from rest to rest is road-load work", "[published][derived]") {
  // Derived: sum of m a_i d_i = m/2 (v_end^2 - v_start^2) = 0 with mid force and trapezoid
  // distance.
  const auto car = test::midsize_car();
  const auto steps = duty::steps(test::wltc_3b(), car);
  Energy road{};
  for (const auto& step : steps)
    road += duty::road_force(car.road_load, step.mean_speed) * step.distance;
  const auto wheel = duty::wheel_energy(steps);
  const Energy net = wheel.traction + wheel.braking;
  CHECK(in_Wh_per_km(net / wheel.distance) == Approx(95.267154).margin(1e-6));
  CHECK_THAT(net, near(road, 1e-12));
}

#include <catch2/catch.hpp>

#include "ohmdrag/quantity/literals.hpp"
#include "support/battery.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

// Own arithmetic, done twice in another language: no outside source prints these figures. The trace
// is the WLTC of class 3b, the car that of support/cycles.hpp.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using duty::Drive;
using duty::ShaftSide;
using test::near;
using test::simple_path;
using test::wh_per_km;
using test::within;

// A constant extra force at the wheel: the priced steps and a second run of the heavier-rolling
// vehicle must agree. Derived: no step changes sign, so battery energy is linear in the force.
TEST_CASE("pricing a loss and running twice agree", "[duty][derived]") {
  const Force extra = 0.5543988_N;
  const auto path = simple_path(0.88, 0.85, 1.0);
  auto car = test::midsize_car();
  const auto before = duty::steps(test::wltc_3b(), car);
  car.road_load.f0 += extra;
  const auto after = duty::steps(test::wltc_3b(), car);

  Energy priced{};
  for (const auto& step : before)
    priced += extra * step.distance * duty::battery_factor(path, step.drive, ShaftSide::wheel_side);
  const auto a = duty::battery_balance(before, path, 300.0_W);
  const auto b = duty::battery_balance(after, path, 300.0_W);
  const EnergyPerDistance run_twice = (b.total() - a.total()) / a.distance;
  CHECK_THAT(EnergyPerDistance(priced / a.distance), within(wh_per_km(0.1640501), wh_per_km(1e-7)));
  CHECK_THAT(run_twice, near(EnergyPerDistance(priced / a.distance), 1e-9));
}

TEST_CASE("shares of the WLTC that pull, brake and stand", "[duty][derived]") {
  const auto steps = duty::steps(test::wltc_3b(), test::midsize_car());
  Time pull{}, brake{}, stand{};
  Length way{}, pulled{};
  for (const auto& step : steps) {
    (step.drive == Drive::traction       ? pull
     : step.drive == Drive::recuperation ? brake
                                         : stand) += step.dt;
    way += step.distance;
    if (step.drive == Drive::traction) pulled += step.distance;
  }
  CHECK_THAT(pull, near(1065.0_s, 1e-12));
  CHECK_THAT(brake, near(509.0_s, 1e-12));
  CHECK_THAT(stand, near(226.0_s, 1e-12));
  CHECK((pulled / way).value() == Approx(0.751711).margin(1e-6));

  // Pads take a fifth of the braking: the loss there costs less.
  const Force extra = 0.5543988_N;
  Energy priced{};
  for (const auto& step : steps)
    priced += extra * step.distance *
              duty::battery_factor(simple_path(0.88, 0.85, 0.8), step.drive, ShaftSide::wheel_side);
  CHECK_THAT(EnergyPerDistance(priced / way), within(wh_per_km(0.157550), wh_per_km(1e-6)));
}

TEST_CASE("constant power and constant torque cost differently", "[duty][derived]") {
  const auto cycle = test::wltc_3b();
  const auto all = duty::totals(cycle);
  // Derived: 8 W / 60 km/h.
  CHECK_THAT(EnergyPerDistance(8.0_W / 60.0_kmh), within(wh_per_km(0.133333), wh_per_km(1e-6)));
  // 8 W all the time; 8 W in the samples that move.
  CHECK_THAT(EnergyPerDistance(8.0_W * all.duration / all.distance),
             within(wh_per_km(0.171923), wh_per_km(1e-6)));
  const auto moving = static_cast<double>(cycle.time.size() - all.zero_samples);
  CHECK(moving == 1566.0);
  CHECK_THAT(EnergyPerDistance(8.0_W * Time::from_value(moving) / all.distance),
             within(wh_per_km(0.149573), wh_per_km(1e-6)));

  // 0.02 N m at a rotor, ratio 9: a road force, whatever the speed.
  const Length u = 2040.0_mm;
  Energy shaft{};
  for (const auto& step : duty::steps(cycle, test::midsize_car())) {
    const Power loss = 0.02_Nm * duty::shaft_speed(step.mean_speed, 9.0, u);
    shaft += loss * step.dt;
  }
  CHECK_THAT(Power(0.02_Nm * duty::shaft_speed(60.0_kmh, 9.0, u)), within(9.2400_W, 1e-4_W));
  CHECK_THAT(shaft, within(Energy(3600.0_J * 3.5830), Energy(3600.0_J * 1e-4)));
  CHECK_THAT(Power(shaft / all.duration), within(7.166_W, 1e-3_W));
  CHECK_THAT(EnergyPerDistance(shaft / all.distance), near(Force::from_value(0.554399), 1e-6));
}

TEST_CASE("dividing a loss by the efficiency everywhere overstates it", "[published][derived]") {
  // Derived: the force over the efficiency of traction on the whole way, against 0.164050 Wh/km.
  CHECK(in_Wh_per_km(0.5543988_N / 0.88) == Approx(0.175000).margin(1e-6));
  CHECK(0.175000 / 0.164050 - 1.0 == Approx(0.067).margin(5e-4));
}

TEST_CASE("8 W at 60 km/h at the battery, in range and over a service", "[published][derived]") {
  struct Row {
    double efficiency, battery, share_percent, range_km;
  };
  // Derived: 8 W/60 km/h over the efficiency; against 150 Wh/km and a range of 500 km.
  const auto row =
      GENERATE(Row{0.85, 0.156863, 0.1046, -0.522}, Row{0.90, 0.148148, 0.0988, -0.493});
  CAPTURE(row.efficiency);
  const double factor = duty::battery_factor(simple_path(row.efficiency, 0.8, 1.0), Drive::traction,
                                             ShaftSide::rotor);
  const EnergyPerDistance extra = factor * (8.0_W / 60.0_kmh);
  CHECK_THAT(extra, within(wh_per_km(row.battery), wh_per_km(6e-7)));
  CHECK(100.0 * (extra / wh_per_km(150.0)).value() == Approx(row.share_percent).margin(6e-5));
  const Length change = duty::range_change(wh_per_km(150.0) * 500.0_km, wh_per_km(150.0), extra);
  CHECK(change.value() / 1000.0 == Approx(row.range_km).margin(6e-4));
  // 150 000 km at the shaft.
  const Energy service = Energy((8.0_W / 60.0_kmh) * 150000.0_km);
  CHECK(service.value() / 3.6e6 == Approx(20.0).margin(1e-3));
}

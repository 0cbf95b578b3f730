// What a constant loss costs per distance on every built-in cycle. Own arithmetic: no outside
// source prints these figures. The cycles are those of data/cycles, the car that of
// support/cycles.hpp; a loss takes power over speed (W over km/h is Wh/km), a torque is a road
// force T i / r.
#include <catch2/catch.hpp>
#include <filesystem>
#include <numbers>

#include "energy/sample_unit.hpp"
#include "ohmdrag/energy/march.hpp"
#include "support/battery.hpp"
#include "support/cycles.hpp"
#include "support/in_source.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using duty::Drive;
using duty::ShaftSide;
using test::near;
using test::wh_per_km;
using test::within;

namespace {

const double ratio = 9.0;
const Length rolling_circumference = 2040.0_mm;

std::vector<duty::Cycle> built_in_cycles() {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::directory_iterator(test::in_source("data/cycles")))
    if (entry.path().extension() == ".csv") files.push_back(entry.path().filename());
  std::sort(files.begin(), files.end());
  REQUIRE(files.size() >= 12);
  std::vector<duty::Cycle> cycles;
  for (const std::string& file : files) cycles.push_back(test::table(file));
  return cycles;
}

/// Energy of a stated loss over a cycle, at the shaft and at the battery.
struct Taken {
  EnergyPerDistance shaft;
  EnergyPerDistance battery;
  Length distance;
};

Taken taken(const component::StatedLoss& loss, const duty::Cycle& cycle,
            const duty::BatteryPath& path) {
  const energy::DriveUnit unit{.shafts = {test::sample_shaft({})},
                               .parts = {{"drag", energy::StatedPart{0, loss}}}};
  energy::Gearing gearing{.ratio = ratio, .rolling_circumference = rolling_circumference};
  const auto duty =
      energy::stretches(duty::steps(cycle, test::midsize_car()), std::span(&gearing, 1));
  energy::SumpDuty sump{.node = {12000.0_J_K, 12.0_W_K, 23.0_degC},
                        .other_heat = 0.0_W,
                        .start = 23.0_degC,
                        .held = true};
  const std::vector<Temperature> dry{23.0_degC};
  const auto whole = energy::march(unit, duty, cycle.phases.size(), sump, dry).whole();
  return {whole.of_part(0) / whole.distance,
          whole.at_battery(0, path, ShaftSide::rotor) / whole.distance, whole.distance};
}

/// Time in which the wheels turn, from the samples alone: a stretch stands only if both its ends
/// do.
Time turning(const duty::Cycle& cycle) {
  Time sum{};
  for (std::size_t i = 1; i < cycle.time.size(); ++i)
    if (cycle.speed[i] != Speed{} || cycle.speed[i - 1] != Speed{})
      sum += cycle.time[i] - cycle.time[i - 1];
  return sum;
}

}  // namespace

// Derived: e = T i / r, so one figure for all cycles. 0.02 N m at i 9, r 324.676 mm: 0.1540 Wh/km.
TEST_CASE("a constant torque costs the same per distance on every cycle", "[duty][derived]") {
  const component::StatedLoss loss{0.02_Nm * 400.0_rad_s, 400.0_rad_s, 0.0};
  const auto path = test::simple_path(0.88, 0.85, 0.8);
  const double radius_m = rolling_circumference.value() / (2.0 * std::numbers::pi);
  const auto closed = EnergyPerDistance::from_value(0.02 * ratio / radius_m);
  CHECK_THAT(closed, within(wh_per_km(0.1540), wh_per_km(5e-5)));
  for (const duty::Cycle& cycle : built_in_cycles()) {
    CAPTURE(cycle.id);
    CHECK_THAT(taken(loss, cycle, path).shaft, near(closed, 1e-9));
  }
}

// Derived: a shaft loss takes nothing at rest, so 8 W cost 8 W times the time of turning.
TEST_CASE("a constant power costs by the time that the shaft turns", "[duty][derived]") {
  const component::StatedLoss loss{8.0_W, 400.0_rad_s, -1.0};
  const auto path = test::simple_path(0.88, 0.85, 0.8);
  double least = 1e9, most = 0.0;
  for (const duty::Cycle& cycle : built_in_cycles()) {
    CAPTURE(cycle.id);
    const Taken of = taken(loss, cycle, path);
    CHECK_THAT(of.shaft, near(EnergyPerDistance(8.0_W * turning(cycle) / of.distance), 1e-9));
    least = std::min(least, of.shaft.value() / 3.6);
    most = std::max(most, of.shaft.value() / 3.6);
  }
  CAPTURE(least, most);
  // 8 W at 60 km/h would be 0.1333 Wh/km on all of them.
  CHECK(least < 0.12);
  CHECK(most > 0.27);
}

// Derived: 8 W for all 1800 s of the WLTC of class 3b, for the 1574 s in which it turns, and for
// the 1566 samples that are not zero.
TEST_CASE("8 W over the WLTC of class 3b", "[duty][derived]") {
  const auto cycle = test::wltc_3b();
  const Taken of = taken({8.0_W, 400.0_rad_s, -1.0}, cycle, test::simple_path(0.88, 0.85, 0.8));
  CHECK_THAT(EnergyPerDistance(8.0_W * 1800.0_s / of.distance),
             within(wh_per_km(0.171923), wh_per_km(5e-7)));
  CHECK_THAT(turning(cycle), near(1574.0_s, 1e-12));
  CHECK_THAT(of.shaft, within(wh_per_km(0.150337), wh_per_km(5e-7)));
  CHECK_THAT(EnergyPerDistance(8.0_W * 1566.0_s / of.distance),
             within(wh_per_km(0.149573), wh_per_km(5e-7)));
}

// Derived: with losses that all follow the load, a drag at the rotor is a force at the wheel. Run
// the heavier vehicle and subtract; against the price of each step. The force is small enough to
// turn no step from braking to pulling.
TEST_CASE("running twice and the closed form agree on every cycle", "[duty][derived]") {
  const auto path = test::simple_path(0.88, 0.85, 0.8);
  const Torque drag = 1e-6_Nm;
  const Force extra = Force::from_value(drag.value() * ratio * 2.0 * std::numbers::pi /
                                        rolling_circumference.value());
  for (const duty::Cycle& cycle : built_in_cycles()) {
    CAPTURE(cycle.id);
    auto car = test::midsize_car();
    const auto before = duty::battery_balance(duty::steps(cycle, car), path, 300.0_W);
    car.road_load.f0 += extra;
    const auto after = duty::battery_balance(duty::steps(cycle, car), path, 300.0_W);
    const EnergyPerDistance twice = (after.total() - before.total()) / before.distance;
    // The difference of two consumptions of some 100 Wh/km leaves seven digits of it.
    CHECK_THAT(twice,
               near(taken({drag * 400.0_rad_s, 400.0_rad_s, 0.0}, cycle, path).battery, 1e-5));
  }
}

#include <algorithm>
#include <cmath>
#include <vector>

#include "energy/sample_unit.hpp"
#include "ohmdrag/energy/march.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

const Length circumference = 2040.0_mm;

energy::Gearing two_speed() {
  return {12.1, circumference, duty::ShaftSide::rotor, {{6.3, 70.0_kmh, 60.0_kmh}}};
}

energy::SumpDuty warming(Temperature start) {
  return {{12000.0_J_K, 12.0_W_K, from_celsius(23.0)}, 150.0_W, start, false};
}

energy::Ledger run(const energy::DriveUnit& unit, std::span<const energy::Stretch> stretches,
                   const energy::SumpDuty& sump) {
  const std::vector<Temperature> dry{from_celsius(60.0)};
  return energy::march(unit, stretches, 1, sump, dry);
}

energy::Stretch soak(Time dt) {
  return {.dt = dt,
          .distance = Length{},
          .drive = duty::Drive::standstill,
          .speed = {AngularVelocity{}},
          .torque = {Torque{}},
          .parked = true};
}

energy::Stretch steady(Time dt, AngularVelocity speed, Speed road_speed = {}) {
  return {.dt = dt, .distance = road_speed * dt, .speed = {speed}, .torque = {Torque{}}};
}

}  // namespace

TEST_CASE("a box shifts at its lines and keeps its gear between them", "[derived]") {
  const energy::Gearing box = two_speed();
  CHECK(energy::gear_at(box, 0.0_kmh) == 0);
  CHECK(energy::gear_at(box, 69.9_kmh, 0) == 0);
  CHECK(energy::gear_at(box, 70.0_kmh, 0) == 1);
  CHECK(energy::gear_at(box, 65.0_kmh, 1) == 1);
  CHECK(energy::gear_at(box, 65.0_kmh, 0) == 0);
  CHECK(energy::gear_at(box, 60.0_kmh, 1) == 1);
  CHECK(energy::gear_at(box, 59.9_kmh, 1) == 0);
  energy::Gearing three = box;
  three.higher.push_back({4.0, 120.0_kmh, 110.0_kmh});
  CHECK(energy::gear_at(three, 130.0_kmh, 0) == 2);
  CHECK(energy::gear_at(three, 20.0_kmh, 2) == 0);
  CHECK(three.ratio_in(2) == 4.0);
  three.higher[0].shift_down = 71.0_kmh;
  CHECK_THROWS_AS(energy::gear_at(three, 50.0_kmh), std::invalid_argument);
}

TEST_CASE("speed and torque of a shaft follow its gear over a cycle", "[derived]") {
  const auto steps = duty::steps(wltc_3b(), midsize_car());
  const std::vector<energy::Gearing> gearing{two_speed(),
                                             {1.0, circumference, duty::ShaftSide::wheel_side}};
  const auto stretches = energy::stretches(steps, gearing);
  std::size_t gear = 0;
  int shifts = 0;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double kmh = in_kmh(steps[i].mean_speed);
    const std::size_t before = gear;
    if (kmh >= 70.0) gear = 1;
    if (kmh < 60.0) gear = 0;
    shifts += gear != before ? 1 : 0;
    const double ratio = gear == 0 ? 12.1 : 6.3;
    CHECK_THAT(stretches[i].speed[0],
               near(duty::shaft_speed(steps[i].mean_speed, ratio, circumference), 1e-14));
    // Power is the same on both sides of a box without losses.
    CHECK((stretches[i].torque[0] * stretches[i].speed[0]).value() ==
          Approx((stretches[i].torque[1] * stretches[i].speed[1]).value()).margin(1e-6));
  }
  CHECK(shifts > 2);
  // The same lines without hysteresis shift at least as often.
  energy::Gearing nervous = two_speed();
  nervous.higher[0].shift_down = nervous.higher[0].shift_up;
  const auto again = energy::stretches(steps, std::vector{nervous});
  int more = 0;
  for (std::size_t i = 1; i < steps.size(); ++i) {
    const auto turns = [&](std::size_t k) {
      return steps[k].mean_speed > Speed{} ? again[k].speed[0].value() / steps[k].mean_speed.value()
                                           : 0.0;
    };
    more += turns(i) > 0.0 && turns(i - 1) > 0.0 && std::abs(turns(i) - turns(i - 1)) > 1.0 ? 1 : 0;
  }
  CHECK(more >= shifts);
}

TEST_CASE("in a soak the sump cools and nothing is counted", "[derived]") {
  const auto unit = sample_unit();
  const std::vector<energy::Stretch> rest{soak(1000.0_s)};
  const auto ledger = run(unit, rest, warming(from_celsius(80.0)));
  // One time constant: 57 K over the surroundings fall to 57/e; other heat is off as well.
  CHECK_THAT(ledger.oil_at_end,
             within(from_celsius(23.0 + 57.0 / std::exp(1.0)), TemperatureDifference(1e-9_K)));
  CHECK(ledger.whole().time == Time{});
  CHECK(ledger.whole().distance == Length{});
  CHECK(ledger.into_sump == Energy{});
  for (std::size_t p = 0; p < unit.parts.size(); ++p) CHECK(ledger.whole().of_part(p) == Energy{});
  // Held oil stays where it is.
  auto held = warming(from_celsius(80.0));
  held.held = true;
  CHECK(run(unit, rest, held).oil_at_end == from_celsius(80.0));
}

TEST_CASE("the longer the soak the more the second run costs", "[derived]") {
  const auto unit = sample_unit();
  double last_J = 0.0;
  std::vector<energy::Stretch> one(1800, steady(1.0_s, 4000.0_rpm));
  const double cold_J = run(unit, one, warming(from_celsius(23.0))).whole().of_part(2).value();
  for (const double rest_s : {0.0, 60.0, 600.0, 3600.0, 1e6}) {
    std::vector<energy::Stretch> two = one;
    two.push_back(soak(Time::from_value(rest_s)));
    two.insert(two.end(), one.begin(), one.end());
    const auto whole = run(unit, two, warming(from_celsius(23.0))).whole();
    const double second_J = whole.of_part(2).value() - cold_J;
    CHECK(second_J > last_J);
    CHECK_THAT(whole.time, near(3600.0_s, 1e-12));
    last_J = second_J;
  }
  // After days of rest the second run is the first again.
  CHECK(last_J == Approx(cold_J).epsilon(1e-9));
}

TEST_CASE("oil held in a stretch rules over the sump's", "[derived]") {
  const auto unit = sample_unit();
  energy::Stretch hot = steady(600.0_s, 4000.0_rpm);
  hot.oil = from_celsius(90.0);
  energy::Stretch cool = hot;
  cool.oil = from_celsius(40.0);
  const auto of_part = [&](std::vector<energy::Stretch> stretches) {
    return run(unit, stretches, warming(from_celsius(23.0))).whole().of_part(2);
  };
  // No memory: the order does not count, and each counts as if it ran alone.
  CHECK_THAT(of_part({hot, cool}), near(of_part({cool, hot}), 1e-9));
  CHECK_THAT(of_part({hot, cool}), near(Energy(of_part({hot}) + of_part({cool})), 1e-9));
  CHECK(of_part({cool}) > of_part({hot}));
}

TEST_CASE("a moving vehicle keeps its sump cooler", "[derived]") {
  const auto unit = sample_unit();
  const auto end = [&](std::optional<duty::AirStream> air, Speed v) {
    auto sump = warming(from_celsius(23.0));
    sump.air = air;
    const std::vector<energy::Stretch> run_1800(1800, steady(1.0_s, 4000.0_rpm, v));
    return run(unit, run_1800, sump).oil_at_end;
  };
  const duty::AirStream air{.added = 8.0_W_K, .at = 100.0_kmh, .exponent = 0.7};
  CHECK(end(air, 100.0_kmh) < end({}, 100.0_kmh));
  CHECK(end(air, 0.0_kmh) == end({}, 0.0_kmh));
  // At the reference speed it is a sump of 20 W/K.
  auto plain = warming(from_celsius(23.0));
  plain.node.conductance = 20.0_W_K;
  const std::vector<energy::Stretch> run_1800(1800, steady(1.0_s, 4000.0_rpm, 100.0_kmh));
  CHECK_THAT(run(unit, run_1800, plain).oil_at_end,
             within(end(air, 100.0_kmh), TemperatureDifference(1e-9_K)));
}

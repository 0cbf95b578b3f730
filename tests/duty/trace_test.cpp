#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "ohmdrag/duty/trace.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using duty::Drive;
using test::near;
using test::within;

TEST_CASE("steps cover the cycle, a second each, in its phases", "[duty][derived]") {
  const auto cycle = test::wltc_3b();
  const auto steps = duty::steps(cycle, test::midsize_car());
  REQUIRE(steps.size() == 1800);
  Time time{};
  Length distance{};
  for (const auto& step : steps) {
    time += step.dt;
    distance += step.distance;
  }
  CHECK_THAT(time, near(1800.0_s, 1e-14));
  CHECK_THAT(distance, near(duty::totals(cycle).distance, 1e-13));
  CHECK(std::ranges::is_sorted(steps, {}, &duty::Step::phase));
  CHECK(std::ranges::count(steps, std::size_t{0}, &duty::Step::phase) == 589);
  CHECK(std::ranges::count(steps, std::size_t{3}, &duty::Step::phase) == 323);
}

TEST_CASE("standstill asks nothing of the wheel", "[duty][derived]") {
  const duty::Cycle cycle{.id = "",
                          .title = "",
                          .source = "",
                          .time = {0.0_s, 1.0_s, 2.0_s, 3.0_s},
                          .speed = {0.0_m_s, 0.0_m_s, 10.0_m_s, 0.0_m_s},
                          .phases = {{"whole", 0, 3}}};
  const auto steps = duty::steps(cycle, test::midsize_car());
  CHECK(steps[0].drive == Drive::standstill);
  CHECK(steps[0].wheel_force == Force{});
  CHECK(steps[1].drive == Drive::traction);
  CHECK(steps[1].acceleration == Acceleration::from_value(10.0));
  CHECK(steps[1].mean_speed == 5.0_m_s);
  CHECK(steps[1].distance == 5.0_m);
  CHECK(steps[2].drive == Drive::recuperation);
  CHECK(steps[2].wheel_force < Force{});
}

TEST_CASE("corner points are walked second by second", "[duty][derived]") {
  const auto cycle = test::table("NEDC_breakpoints.csv", {test::phase_end("part-one", 780),
                                                          test::phase_end("part-two", 1180)});
  const auto steps = duty::steps(cycle, test::midsize_car());
  CHECK(steps.size() == 1180);
  CHECK(std::ranges::count(steps, std::size_t{1}, &duty::Step::phase) == 400);
}

// From rest to rest the inertia does no work: what is put in comes back in braking. Sum over all
// signs = road load along the way, on every shipped cycle. Derived: sum m a_i d_i telescopes.
TEST_CASE("inertia leaves no trace in the net energy of a cycle", "[duty][derived]") {
  const std::string file =
      GENERATE("WLTC_class3b.csv", "WLTC_class3a.csv", "WLTC_class2.csv", "WLTC_class1.csv",
               "UDDS.csv", "HWFET.csv", "US06.csv", "SC03.csv", "NEDC_breakpoints.csv",
               "ECE15_breakpoints.csv", "EUDC_breakpoints.csv", "CLTC-P.csv");
  const auto car = test::midsize_car();
  const auto steps = duty::steps(test::table(file), car);
  Energy road{};
  for (const auto& step : steps)
    road += duty::road_force(car.road_load, step.mean_speed) * step.distance;
  const auto wheel = duty::wheel_energy(steps);
  CAPTURE(file);
  CHECK_THAT(Energy(wheel.traction + wheel.braking), near(road, 1e-11));
}

TEST_CASE("the histogram keeps time, way and every sum of a law without memory",
          "[duty][derived]") {
  const auto steps = duty::steps(test::wltc_3b(), test::midsize_car());
  const auto bins = duty::speed_histogram(steps);
  CHECK(bins.size() < steps.size());
  CHECK(std::ranges::is_sorted(bins, {}, &duty::SpeedBin::mean_speed));
  const auto law = [](Speed v) { return std::sqrt(v.value()) + std::exp(-v.value()); };
  double by_step = 0.0;
  double by_bin = 0.0;
  Length way{};
  for (const auto& step : steps) by_step += law(step.mean_speed) * step.dt.value();
  for (const auto& bin : bins) {
    by_bin += law(bin.mean_speed) * bin.time.value();
    way += bin.distance;
  }
  CHECK(by_bin == Approx(by_step).epsilon(1e-12));
  CHECK_THAT(way, near(23266.278_m, 1e-7));
  // One decimal in the table makes mid speeds in steps of 0.05 km/h; no bin holds two of them.
  for (std::size_t i = 1; i < bins.size(); ++i) {
    const double gap_kmh = in_kmh(bins[i].mean_speed) - in_kmh(bins[i - 1].mean_speed);
    CHECK((gap_kmh > 0.049 || (gap_kmh == 0.0 && bins[i].drive > bins[i - 1].drive)));
  }
  CHECK(bins.front().drive == Drive::standstill);
  CHECK(bins.front().time == 226.0_s);
}

TEST_CASE("the histogram of nothing is empty", "[duty][derived]") {
  CHECK(duty::speed_histogram({}).empty());
}

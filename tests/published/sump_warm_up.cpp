#include <catch2/catch.hpp>

#include <cmath>

#include "ohmdrag/duty/warm_up.hpp"
#include "ohmdrag/material/viscosity.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

// One thermal node with constant heat has the closed solution
//     T(t) = T_amb + Q/G + (T_0 - T_amb - Q/G) exp(-G t/C)
// (derived: first-order linear equation). Figures computed from it independently.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using test::within;

namespace {

constexpr duty::SumpNode small_sump{
    .heat_capacity = 12000.0_J_K, .conductance = 12.0_W_K, .ambient = 23.0_degC};

}  // namespace

TEST_CASE("a sump of 12 kJ/K and 12 W/K under 300 W", "[published][derived]") {
  struct Row {
    Time t;
    double degC, tolerance;
  };
  const auto row =
      GENERATE(Row{300.0_s, 29.48, 0.006}, Row{600.0_s, 34.28, 0.006}, Row{1000.0_s, 38.80, 0.006},
               Row{1200.0_s, 40.47, 0.006}, Row{1800.0_s, 43.86753, 1e-5});
  const auto after = duty::temperature_after(small_sump, 23.0_degC, 300.0_W, row.t);
  CHECK_THAT(after,
             within(from_celsius(row.degC), TemperatureDifference::from_value(row.tolerance)));
}

TEST_CASE("the same in a step a second, and its mean", "[published][derived]") {
  Temperature now = 23.0_degC;
  double sum_degC = 0.0;
  for (int k = 0; k < 1800; ++k) {
    const Temperature next = duty::temperature_after(small_sump, now, 300.0_W, 1.0_s);
    sum_degC += 0.5 * (in_celsius(now) + in_celsius(next));
    now = next;
  }
  CHECK_THAT(now, within(from_celsius(43.86753), 1e-5_K));
  CHECK(sum_degC / 1800.0 == Approx(36.4069).margin(6e-5));
}

TEST_CASE("a sump of 39 kJ/K and 15 W/K under 300 W", "[published][derived]") {
  const auto warm_up = [](Temperature ambient) {
    const duty::SumpNode node{
        .heat_capacity = 39000.0_J_K, .conductance = 15.0_W_K, .ambient = ambient};
    return duty::temperature_after(node, ambient, 300.0_W, 1800.0_s);
  };
  CHECK_THAT(warm_up(23.0_degC), within(from_celsius(32.9916), 6e-5_K));
  CHECK_THAT(warm_up(from_celsius(-7.0)), within(from_celsius(2.9916), 6e-5_K));
}

TEST_CASE("the mean of the slower sump", "[published][derived]") {
  // Mean of the closed solution: T_eq + (T_0 - T_eq) tau/t (1 - exp(-t/tau)).
  const duty::SumpNode node{
      .heat_capacity = 39000.0_J_K, .conductance = 15.0_W_K, .ambient = 23.0_degC};
  Temperature now = node.ambient;
  double sum_degC = 0.0;
  for (int k = 0; k < 1800; ++k) {
    const Temperature next = duty::temperature_after(node, now, 300.0_W, 1.0_s);
    sum_degC += 0.5 * (in_celsius(now) + in_celsius(next));
    now = next;
  }
  CHECK(sum_degC / 1800.0 == Approx(28.5677).margin(6e-5));
}

TEST_CASE("heat capacity and time constant of a small sump", "[published][derived]") {
  // 0.9 kJ/(kg K) of aluminium and 2.0 of oil (common practice, no source): 10 kg and 1.5 kg.
  CHECK(0.9 * 10.0 + 2.0 * 1.5 == Approx(small_sump.heat_capacity.value() / 1000.0));
  // After a time constant of 1000 s the rise has come to 1 - 1/e of 25 K.
  const auto after = duty::temperature_after(small_sump, 23.0_degC, 300.0_W, 1000.0_s);
  CHECK(in_celsius(after) - 23.0 == Approx(25.0 * (1.0 - std::exp(-1.0))));
}

TEST_CASE("a loss that falls as the oil warms, from three temperatures", "[published][derived]") {
  struct Row {
    Temperature start;
    bool held;
    double end_degC, energy_Wh;
  };
  // 200 W and 60 W (nu/nu(80 degC))^(2/3) into the small sump for 1800 s, started at the
  // temperature of its surroundings; oil of 30 and 6 mm2/s, form of ASTM D341. Figures computed
  // separately with Euler's rule; steps of a twentieth of a second leave both within 0.005.
  const auto row =
      GENERATE(Row{23.0_degC, false, 45.93, 170.04}, Row{from_celsius(-7.0), false, 24.22, 243.17},
               Row{80.0_degC, true, 80.0, 130.0});
  CAPTURE(in_celsius(row.start));
  const material::Walther oil(KinematicViscosity::from_value(30e-6),
                              KinematicViscosity::from_value(6e-6), 0.7);
  const auto hot = oil.at(80.0_degC);
  duty::SumpNode node = small_sump;
  node.ambient = row.start;
  Temperature now = row.start;
  double energy_J = 0.0;
  for (int k = 0; k < 36000; ++k) {
    const double factor = std::pow((oil.at(now) / hot).value(), 2.0 / 3.0);
    const Power loss = 200.0_W + 60.0_W * factor;
    energy_J += loss.value() * 0.05;
    if (!row.held) now = duty::temperature_after(node, now, loss, 0.05_s);
  }
  CHECK(in_celsius(now) == Approx(row.end_degC).margin(0.006));
  CHECK(energy_J / 3600.0 == Approx(row.energy_Wh).margin(0.006));
}

TEST_CASE("viscosity at the start temperatures over that of hot oil", "[published][formula]") {
  // Form of ASTM D341, c = 0.7, as quoted in public texts; our arithmetic.
  const material::Walther oil(KinematicViscosity::from_value(30e-6),
                              KinematicViscosity::from_value(6e-6), 0.7);
  const auto ratio = [&](Temperature t) { return (oil.at(t) / oil.at(80.0_degC)).value(); };
  CHECK(ratio(23.0_degC) == Approx(6.709).margin(6e-4));
  CHECK(std::pow(ratio(23.0_degC), 2.0 / 3.0) == Approx(3.557).margin(6e-4));
  CHECK(std::pow(ratio(from_celsius(-7.0)), 2.0 / 3.0) == Approx(11.72).margin(6e-3));
}

#include <catch2/catch.hpp>

#include "ohmdrag/duty/warm_up.hpp"
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

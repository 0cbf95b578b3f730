#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <utility>

#include "ohmdrag/bearing/damage_sum.hpp"
#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/bearing/weibull.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

// Lives that add up: the formulas are those of the sources in the headers, the figures are own
// arithmetic in another language. No outside source prints them.

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::literals;
using test::near;
using test::within;

namespace {

Time hours(double h) { return Time::from_value(h * 3600.0); }

}  // namespace

TEST_CASE("three-step duty by lives and by the mean load", "[derived]") {
  // Own arithmetic in another language: C = 29516.04 N.
  const Force rating = Force::from_value(29516.04);
  const std::array<LoadShare, 3> loads{
      {{0.1, 4000.0_N, 3000.0_rpm}, {0.3, 2500.0_N, 6000.0_rpm}, {0.6, 1200.0_N, 10000.0_rpm}}};
  std::array<LifeShare, 3> lives{};
  for (std::size_t i = 0; i < 3; ++i)
    lives[i] = {loads[i].share,
                basic_life(rating, loads[i].load, ball_life_exponent, loads[i].omega)};
  const Time life = mixed_life(lives);
  CHECK_THAT(life, near(Time::from_value(7428.479 * 3600.0), 1e-6));
  const Force mean = mean_equivalent_load(loads, ball_life_exponent);
  CHECK_THAT(mean, near(Force::from_value(1924.034), 1e-6));
  CHECK_THAT(mean_speed(loads), near(8100.0_rpm, 1e-12));
  CHECK_THAT(basic_life(rating, mean, ball_life_exponent, mean_speed(loads)), near(life, 1e-12));
}

TEST_CASE("system life with one slope", "[derived]") {
  // Own arithmetic in another language.
  struct Row {
    double slope, three_h, equal_pair, equal_four;
  };
  const Row row = GENERATE(
      Row{1.5, 14473.26, 0.629961, 0.396850}, Row{10.0 / 9.0, 11598.32, 0.535887, 0.287175},
      Row{9.0 / 8.0, 11725.69, std::pow(2.0, -8.0 / 9.0), std::pow(4.0, -8.0 / 9.0)},
      Row{1.1, 11494.90, std::pow(2.0, -1.0 / 1.1), std::pow(4.0, -1.0 / 1.1)});
  const std::array three{20000.0_h, 35000.0_h, 60000.0_h};
  CHECK_THAT(system_l10(three, row.slope), within(hours(row.three_h), hours(0.01)));
  const std::array pair{1.0_h, 1.0_h};
  CHECK_THAT(system_l10(pair, row.slope), near(hours(row.equal_pair), 1e-6));
  const std::array four{1.0_h, 1.0_h, 1.0_h, 1.0_h};
  CHECK_THAT(system_l10(four, row.slope), near(hours(row.equal_four), 2e-6));
}

TEST_CASE("mechanical and electrical cause, one slope", "[derived]") {
  // Own arithmetic in another language, whole hours.
  const auto [slope, expected_h] = GENERATE(std::pair{1.0, 12000.0}, std::pair{10.0 / 9.0, 12833.0},
                                            std::pair{1.5, 14969.0}, std::pair{2.0, 16641.0});
  const std::array lives{20000.0_h, 30000.0_h};
  CHECK_THAT(system_l10(lives, slope), within(hours(expected_h), 1.0_h));
  const std::array parts{Weibull{20000.0_h, slope}, Weibull{30000.0_h, slope}};
  CHECK_THAT(system_l10(parts), near(system_l10(lives, slope), 1e-10));
}

TEST_CASE("40 000 h of fatigue beside 112 251 h of discharges", "[derived]") {
  // Own arithmetic in another language, whole hours; the second life is the duty of
  // busse_current_density.cpp.
  const auto [slope, expected_h] =
      GENERATE(std::pair{1.0, 29491.0}, std::pair{10.0 / 9.0, 31204.0}, std::pair{1.5, 35174.0});
  const std::array lives{40000.0_h, 112251.0_h};
  CHECK_THAT(system_l10(lives, slope), within(hours(expected_h), 1.0_h));
}

TEST_CASE("mechanical and electrical cause, two slopes", "[derived]") {
  const std::array parts{Weibull{20000.0_h, 1.5}, Weibull{30000.0_h, 1.2}};
  CHECK_THAT(system_l10(parts), within(hours(14140.0), 1.0_h));
  CHECK_THAT(characteristic_life(parts[0]), within(hours(89656.0), 1.0_h));
  CHECK_THAT(characteristic_life(parts[1]), within(hours(195684.0), 1.0_h));
  CHECK_THAT(survival(parts[0], system_l10(parts)) * survival(parts[1], system_l10(parts)),
             near(0.9, 1e-11));
}

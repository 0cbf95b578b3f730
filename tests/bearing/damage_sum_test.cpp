#include "ohmdrag/bearing/damage_sum.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

const Time never = Time::from_value(std::numeric_limits<double>::infinity());

}  // namespace

TEST_CASE("mean load of continuous courses", "[derived]") {
  // Cubic means: ramp 1 to 3: (20/2)^(1/3) with mean of P^3 = (81 - 1)/8; |sin|: (4/(3 pi))^(1/3);
  // (1 - cos)/2: (5/16)^(1/3). The last by exponent 10/3 of own quadrature.
  struct Row {
    double (*load)(double);
    double exponent, expected;
  };
  const Row row =
      GENERATE(Row{[](double x) { return 1.0 + 2.0 * x; }, 3.0, std::cbrt(10.0)},
               Row{[](double x) { return std::sin(std::numbers::pi * x); }, 3.0,
                   std::cbrt(4.0 / (3.0 * std::numbers::pi))},
               Row{[](double x) { return 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * x); }, 3.0,
                   std::cbrt(5.0 / 16.0)},
               Row{[](double x) { return std::sin(std::numbers::pi * x); }, 10.0 / 3.0, 0.762979});
  std::vector<LoadShare> duty;
  constexpr int steps = 4000;
  for (int i = 0; i < steps; ++i)
    duty.push_back({1.0, Force::from_value(row.load((i + 0.5) / steps)), 1.0_rad_s});
  CHECK_THAT(mean_equivalent_load(duty, row.exponent), near(Force::from_value(row.expected), 1e-6));
}

TEST_CASE("shares without damage only dilute", "[derived]") {
  const std::array<LifeShare, 2> half{{{0.5, 1000.0_h}, {0.5, never}}};
  CHECK_THAT(mixed_life(half), near(2000.0_h, 1e-12));
  const std::array<LifeShare, 1> none{{{1.0, never}}};
  CHECK(mixed_life(none) == never);
  CHECK(damage(10.0_h, never) == 0.0);
  CHECK_THAT(damage(10.0_h, 40.0_h), near(0.25, 1e-12));
  // Shares need not sum to 1: only their proportion counts.
  const std::array<LifeShare, 2> minutes{{{30.0, 1000.0_h}, {30.0, never}}};
  CHECK_THAT(mixed_life(minutes), near(2000.0_h, 1e-12));
}

TEST_CASE("standing shares do not weigh in the mean load", "[derived]") {
  const std::array<LoadShare, 2> duty{
      {{0.5, 1000.0_N, 1000.0_rpm}, {0.5, 9000.0_N, AngularVelocity{}}}};
  CHECK_THAT(mean_equivalent_load(duty, 3.0), near(1000.0_N, 1e-12));
  CHECK_THAT(mean_speed(duty), near(500.0_rpm, 1e-12));
}

TEST_CASE("undefined damage is refused", "[derived]") {
  CHECK_THROWS_AS(mixed_life(std::array<LifeShare, 0>{}), std::invalid_argument);
  CHECK_THROWS_AS(mixed_life(std::array<LifeShare, 1>{{{1.0, Time{}}}}), std::invalid_argument);
  CHECK_THROWS_AS(mixed_life(std::array<LifeShare, 1>{{{-1.0, 1.0_h}}}), std::invalid_argument);
  CHECK_THROWS_AS(
      mean_equivalent_load(std::array<LoadShare, 1>{{{1.0, 1.0_N, AngularVelocity{}}}}, 3.0),
      std::invalid_argument);
  CHECK_THROWS_AS(damage(Time::from_value(-1.0), 1.0_h), std::invalid_argument);
}

#include "ohmdrag/life/combined_life.hpp"

#include <array>
#include <cmath>

#include "ohmdrag/life/miner.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::life;
using ohmdrag::bearing::Weibull;
using ohmdrag::test::near;
using ohmdrag::test::within;

TEST_CASE("two lives in competition", "[derived]") {
  struct Row {
    double slope;
    Time combined;
  };
  const auto row = GENERATE(Row{1.0, 12000.0_h}, Row{10.0 / 9.0, 12833.0_h}, Row{1.5, 14969.0_h},
                            Row{2.0, 16641.0_h});
  CAPTURE(row.slope);
  CHECK_THAT(competing_risks_life({20000.0_h, row.slope}, Weibull{30000.0_h, row.slope}),
             within(row.combined, 1.0_h));
  // The solver for unequal slopes tends to the closed form.
  CHECK_THAT(
      competing_risks_life({20000.0_h, row.slope}, Weibull{30000.0_h, row.slope + 1e-9}),
      near(competing_risks_life({20000.0_h, row.slope}, Weibull{30000.0_h, row.slope}), 1e-8));
}

TEST_CASE("two lives of unequal slope", "[derived]") {
  const Weibull mechanical{20000.0_h, 1.5}, electrical{30000.0_h, 1.2};
  const Time combined = competing_risks_life(mechanical, electrical);
  CHECK_THAT(combined, within(14140.0_h, 1.0_h));
  CHECK_THAT(event_probability(combined, mechanical, electrical), near(0.1, 1e-9));
}

TEST_CASE("the combination is below either life", "[derived]") {
  for (const double electrical_h : {10.0, 1e3, 1e5, 1e9})
    for (const double slope : {1.0, 1.5, 2.0}) {
      const Time electrical = electrical_h * 1.0_h;
      const Time combined = competing_risks_life({20000.0_h, 1.5}, Weibull{electrical, slope});
      CHECK(combined <= std::min(20000.0_h, electrical) * (1.0 + 1e-9));
      CHECK(linear_damage_life(20000.0_h, electrical) <= std::min(20000.0_h, electrical));
    }
}

TEST_CASE("no electrical limit leaves the mechanical life exactly", "[derived]") {
  CHECK(linear_damage_life(20000.0_h, std::nullopt) == 20000.0_h);
  CHECK(competing_risks_life({20000.0_h, 1.5}, std::nullopt) == 20000.0_h);
  CHECK_THAT(event_probability(20000.0_h, {20000.0_h, 1.5}, std::nullopt), near(0.1, 1e-12));
}

TEST_CASE("linear damage of both mechanisms", "[derived]") {
  CHECK_THAT(linear_damage_life(40000.0_h, 112251.0_h), within(29491.0_h, 1.0_h));
  CHECK_THROWS_AS(linear_damage_life(0.0_h, 1.0_h), std::invalid_argument);
}

TEST_CASE("probability of an event grows with service from nothing", "[derived]") {
  const Weibull mechanical{20000.0_h, 1.5}, electrical{5000.0_h, 2.0};
  CHECK(event_probability(0.0_h, mechanical, electrical) == 0.0);
  double last = 0.0;
  for (double hours = 100.0; hours < 1e5; hours *= 2.0) {
    const double now = event_probability(hours * 1.0_h, mechanical, electrical);
    const double sum =
        std::log(1.0 / 0.9) * (std::pow(hours / 20000.0, 1.5) + std::pow(hours / 5000.0, 2.0));
    CHECK_THAT(now, near(-std::expm1(-sum), 1e-12));
    CHECK(now > last);
    last = now;
  }
}

TEST_CASE("steps without damage dilute a duty", "[derived]") {
  const std::array steps{LifeStep{0.25, 1000.0_h}, LifeStep{0.75, Time::from_value(INFINITY)}};
  CHECK_THAT(miner_life(steps), near(4000.0_h, 1e-12));
}

#include "ohmdrag/bearing/weibull.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

Time hours(double h) { return Time::from_value(h * 3600.0); }
const Time never = Time::from_value(std::numeric_limits<double>::infinity());

}  // namespace

TEST_CASE("the system never outlives its weakest part", "[derived]") {
  const double life_h = GENERATE(1.0, 1000.0, 20000.0, 1e9);
  const double slope = GENERATE(0.5, 1.0, 1.5, 2.0, 4.0);
  const std::array parts{Weibull{20000.0_h, 1.5}, Weibull{hours(life_h), slope}};
  const Time both = system_l10(parts);
  CAPTURE(life_h, slope);
  CHECK(both <= std::min(20000.0_h, hours(life_h)) * (1.0 + 1e-12));
  CHECK(both > Time{});
}

TEST_CASE("causes that never kill drop out", "[derived]") {
  const std::array lives{20000.0_h, never};
  CHECK_THAT(system_l10(lives, 1.5), near(20000.0_h, 1e-12));
  const std::array parts{Weibull{20000.0_h, 1.5}, Weibull{never, 2.0}};
  CHECK_THAT(system_l10(parts), near(20000.0_h, 1e-11));
  const std::array none{Weibull{never, 2.0}};
  CHECK(system_l10(none) == never);
  CHECK(survival(none[0], 1e6_h) == 1.0);
}

TEST_CASE("survival at multiples of L10", "[derived]") {
  // Own arithmetic in another language.
  struct Row {
    double slope, at_half, at_double, median, mean;
  };
  const Row row = GENERATE(Row{1.5, 0.963435, 0.742298, 3.511007, 4.046815},
                           Row{10.0 / 9.0, 0.952395, 0.796450, 5.449201, 7.288854});
  const Weibull life{.l10 = 1000.0_h, .slope = row.slope};
  CHECK(survival(life, Time{}) == 1.0);
  CHECK_THAT(survival(life, 1000.0_h), near(0.9, 1e-12));
  CHECK_THAT(survival(life, 500.0_h), within(row.at_half, 1e-6));
  CHECK_THAT(survival(life, 2000.0_h), within(row.at_double, 1e-6));
  CHECK_THAT(failure_probability(life, 500.0_h), near(1.0 - survival(life, 500.0_h), 1e-9));
  CHECK_THAT(median_over_l10(row.slope), within(row.median, 1e-6));
  CHECK_THAT(mean_life(life), near(hours(1000.0 * row.mean), 2e-7));
  CHECK_THAT(age_at_survival(life, 0.5), near(hours(1000.0 * row.median), 1e-6));
}

TEST_CASE("median to L10", "[derived]") {
  // (0.10536/0.69315)^(1/2) = 0.390.
  CHECK_THAT(l10_from_median(1000.0_h, 2.0), near(390.0_h, 1e-3));
  CHECK_THAT(l10_from_median(1000.0_h, 2.0) * median_over_l10(2.0), near(1000.0_h, 1e-12));
}

TEST_CASE("small failure probabilities keep their digits", "[derived]") {
  const Weibull life{.l10 = 1e9_h, .slope = 2.0};
  CHECK_THAT(failure_probability(life, 1.0_h), near(-std::log(0.9) * 1e-18, 1e-9));
}

TEST_CASE("nothing fails before the minimum life", "[derived]") {
  const ThreeParameterWeibull life{.minimum = 0.05, .scale = 4.0, .slope = 1.5};
  CHECK(survival(life, 0.05) == 1.0);
  CHECK(survival(life, 0.0) == 1.0);
  CHECK_THAT(survival(life, age_at_survival(life, 0.37)), near(0.37, 1e-12));
}

TEST_CASE("undefined Weibull lives are refused", "[derived]") {
  CHECK_THROWS_AS(survival(Weibull{Time{}, 1.5}, 1.0_h), std::invalid_argument);
  CHECK_THROWS_AS(survival(Weibull{1.0_h, 0.0}, 1.0_h), std::invalid_argument);
  CHECK_THROWS_AS(survival(Weibull{1.0_h, 1.5}, -1.0_h), std::invalid_argument);
  CHECK_THROWS_AS(age_at_survival(Weibull{1.0_h, 1.5}, 1.0), std::invalid_argument);
}

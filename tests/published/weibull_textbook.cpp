// Weibull lives. D. C. Montgomery, G. C. Runger, Applied Statistics and Probability for Engineers,
// Ex. 4-25 (read). J. E. Shigley, R. G. Budynas, J. K. Nisbett, Mechanical Engineering Design,
// chapter 11 (parameters as quoted in a public copy, results from memory). G. Lundberg, A.
// Palmgren, Dynamic Capacity of Rolling Bearings (1947): slope 10/9 of ball bearings.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/bearing/weibull.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

// Shigley, chapter 11: bearing life in units of the rating life.
const ThreeParameterWeibull shigley{.minimum = 0.02, .scale = 4.439, .slope = 1.483};

}  // namespace

TEST_CASE("Montgomery and Runger: slope 0.5, characteristic life 5000 h", "[printed]") {
  const Weibull life = weibull_of_characteristic_life(5000.0_h, 0.5);
  CHECK_THAT(survival(life, 6000.0_h), within(0.334, 5e-4));
  CHECK_THAT(mean_life(life), near(10000.0_h, 1e-12));
}

TEST_CASE("Shigley: moments of the life of a ball bearing", "[formula]") {
  // Prints 4.033, 3.487, 0.993 and 2.75 (from memory).
  CHECK_THAT(mean_life(shigley), within(4.032952, 1e-5));
  CHECK_THAT(age_at_survival(shigley, 0.5), within(3.486988, 1e-5));
  CHECK_THAT(age_at_survival(shigley, 0.9), within(0.993348, 1e-5));
  CHECK_THAT(standard_deviation(shigley), within(2.75346, 1e-5));
}

TEST_CASE("Shigley: rating for a life at given reliability", "[formula]") {
  // Problem 11-1: 2.5 kN times 1.2, 25 000 h at 350 1/min, 90 %; about 24.3 kN (from memory).
  const double design_life = 25000.0 * 60.0 * 350.0 / 1e6;
  CHECK_THAT(design_life, near(525.0, 1e-12));
  const Force load = 3000.0_N;
  const double ratio = std::cbrt(design_life / age_at_survival(shigley, 0.9));
  CHECK_THAT(Force(ratio * load), within(24255.0_N, 1.0_N));
  // A bearing rated 25.5 kN survives a little more often.
  const double rating_lives =
      design_life / basic_life_million_revolutions(25500.0_N, load, ball_life_exponent);
  CHECK_THAT(survival(shigley, rating_lives), within(0.91951, 1e-5));
}

TEST_CASE("Shigley: rating for a life at 99 %, exact and as the book rounds it", "[formula]") {
  // Ex. 11-3: 413 lbf times 1.2, 30 000 h at 300 1/min, 99 %; prints 6696 lbf (all from memory).
  // The book writes 1 - R for ln(1/R): 0.1 % more.
  const double design_life = 30000.0 * 60.0 * 300.0 / 1e6;
  const double load_lbf = 1.2 * 413.0;
  const double exact = load_lbf * std::cbrt(design_life / age_at_survival(shigley, 0.99));
  CHECK_THAT(exact, within(6689.5, 0.5));
  const double as_printed = std::exp(-0.01);  // the survival whose ln(1/S) is 1 - R
  CHECK_THAT(load_lbf * std::cbrt(design_life / age_at_survival(shigley, as_printed)),
             within(6696.0, 0.5));
}

TEST_CASE("Weibull: survival and means in units of L10", "[formula]") {
  // S = exp[-ln(1/0.9) (t/L10)^beta]: W. Weibull (1951); slope 1.5 of ISO/TR 1281-2:2008, 10/9 of
  // Lundberg and Palmgren (from memory). The figures are our arithmetic.
  struct Row {
    double slope, at_half, at_double, median, mean;
  };
  const Row row = GENERATE(Row{1.5, 0.963435, 0.742298, 3.511007, 4.046815},
                           Row{10.0 / 9.0, 0.952395, 0.796450, 5.449201, 7.288854});
  const Weibull life{.l10 = 1000.0_h, .slope = row.slope};
  CHECK_THAT(survival(life, 500.0_h), within(row.at_half, 1e-6));
  CHECK_THAT(survival(life, 2000.0_h), within(row.at_double, 1e-6));
  CHECK_THAT(median_over_l10(row.slope), within(row.median, 1e-6));
  CHECK_THAT((mean_life(life) / life.l10).value(), within(row.mean, 1e-6));
}

TEST_CASE("Lundberg and Palmgren: two equal ball bearings of 20 000 h", "[formula]") {
  const std::array pair{20000.0_h, 20000.0_h};
  CHECK_THAT(system_l10(pair, 10.0 / 9.0), within(10718.0_h, 1.0_h));
}

#include "ohmdrag/contact/shaft_fit.hpp"

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

const FitClass two_bands{
    {.above = 18.0_mm, .up_to = 30.0_mm, .lower_deviation = -130.0_um, .upper_deviation = 0.0_um},
    {.above = 30.0_mm, .up_to = 50.0_mm, .lower_deviation = -160.0_um, .upper_deviation = 0.0_um}};

}  // namespace

TEST_CASE("a band holds above its first and up to its second diameter", "[derived]") {
  CHECK(shaft_limits(two_bands, 30.0_mm).lower_deviation == -130.0_um);
  CHECK(shaft_limits(two_bands, 30.001_mm).lower_deviation == -160.0_um);
  CHECK(shaft_limits(two_bands, 50.0_mm).lower_deviation == -160.0_um);
}

TEST_CASE("the limits of a shaft are its nominal diameter and both deviations", "[derived]") {
  const auto limits = shaft_limits(two_bands, 40.0_mm);
  CHECK_THAT(limits.smallest, near(39.84_mm, 1e-12));
  CHECK_THAT(limits.largest, near(40.0_mm, 1e-12));
}

TEST_CASE("a nominal shaft changes nothing, a thicker one presses more", "[derived]") {
  CHECK(fit_effect(40.0_mm, 1.2_mm, 0.0_mm).elastic_force == 1.0);
  CHECK(fit_effect(40.0_mm, 1.2_mm, 0.0_mm).power == 1.0);
  CHECK(fit_effect(40.0_mm, 1.2_mm, 0.018_mm).elastic_force == Approx(1.015));
}

TEST_CASE("a shaft thinner than the free contact is open, flagged", "[derived]") {
  const auto open = fit_effect(40.0_mm, 0.1_mm, -160.0_um);
  CHECK(open.elastic_force == 0.0);
  REQUIRE(open.flags.size() == 1);
  CHECK(open.flags[0].value == Approx(-0.6));
  CHECK(fit_effect(40.0_mm, 0.16_mm, -160.0_um).flags.empty());
}

TEST_CASE("an undefined fit is refused", "[derived]") {
  CHECK_THROWS_AS(shaft_limits(two_bands, 18.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(shaft_limits(two_bands, 51.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(shaft_limits({}, 40.0_mm), std::invalid_argument);
  FitClass bad = two_bands;
  bad[1].upper_deviation = -200.0_um;
  CHECK_THROWS_AS(shaft_limits(bad, 20.0_mm), std::invalid_argument);
  bad = two_bands;
  bad[0].up_to = 18.0_mm;
  CHECK_THROWS_AS(shaft_limits(bad, 40.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(fit_effect(0.0_mm, 1.2_mm, 0.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(fit_effect(40.0_mm, 0.0_mm, 0.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(fit_effect(40.0_mm, 1.2_mm, -40.0_mm), std::invalid_argument);
}

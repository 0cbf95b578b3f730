#include "ohmdrag/contact/electrical.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

DryResistance law(double q, double m) {
  return {.bulk = 8.0_ohm,
          .film = 22.0_ohm,
          .at_line_force = 10.0_N_m,
          .at_force = 0.5_N,
          .at_diameter = 40.0_mm,
          .count_exponent = q,
          .film_exponent = m};
}

}  // namespace

TEST_CASE("a dry contact at its reference has its stated resistance", "[derived]") {
  CHECK_THAT(ring_resistance(law(0.5, 0.75), 10.0_N_m, 40.0_mm).value, near(30.0_ohm, 1e-15));
  CHECK_THAT(brush_resistance(law(0.5, 0.75), 0.5_N).value, near(30.0_ohm, 1e-15));
}

TEST_CASE("without exponents force does not set the resistance", "[derived]") {
  CHECK(ring_resistance(law(0.0, 0.0), 25.0_N_m, 40.0_mm).value == 30.0_ohm);
  CHECK(brush_resistance(law(0.0, 0.0), 0.2_N).value == 30.0_ohm);
}

TEST_CASE("bulk follows the count of fibres and film the power law", "[derived]") {
  // Half the force: bulk 8 * 2^0.5, film 22 * 2^(0.75 + 0.5 * 0.25).
  CHECK_THAT(ring_resistance(law(0.5, 0.75), 5.0_N_m, 40.0_mm).value,
             near((8.0 * std::sqrt(2.0) + 22.0 * std::pow(2.0, 0.875)) * 1.0_ohm, 1e-14));
}

TEST_CASE("a ring of twice the diameter has half the resistance at equal line force", "[derived]") {
  CHECK_THAT(ring_resistance(law(0.5, 0.75), 10.0_N_m, 80.0_mm).value, near(15.0_ohm, 1e-15));
}

TEST_CASE("resistance never falls as the force falls", "[derived]") {
  for (const double q : {0.0, 0.5, 1.0})
    for (const double m : {0.0, 0.5, 1.0})
      for (double f = 1.0; f < 40.0; f *= 1.3)
        CHECK(ring_resistance(law(q, m), LineForce::from_value(f), 40.0_mm).value >=
              ring_resistance(law(q, m), LineForce::from_value(1.01 * f), 40.0_mm).value);
}

TEST_CASE("a force beyond three times the reference is flagged", "[derived]") {
  CHECK(ring_resistance(law(0.5, 0.75), 29.0_N_m, 40.0_mm).flags.empty());
  REQUIRE(ring_resistance(law(0.5, 0.75), 31.0_N_m, 40.0_mm).flags.size() == 1);
  const auto low = brush_resistance(law(0.5, 0.75), 0.16_N);
  REQUIRE(low.flags.size() == 1);
  CHECK(low.flags[0].low == Approx(0.5 / 3.0));
}

TEST_CASE("undefined contact resistance is refused", "[derived]") {
  CHECK_THROWS_AS(ring_resistance(law(0.5, 0.75), 0.0_N_m, 40.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(ring_resistance(law(0.5, 0.75), 10.0_N_m, 0.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(ring_resistance(law(1.1, 0.75), 10.0_N_m, 40.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(brush_resistance(law(0.5, -0.1), 0.5_N), std::invalid_argument);
  CHECK_THROWS_AS(brush_resistance(law(0.5, 0.5), -0.5_N), std::invalid_argument);
  DryResistance none = law(0.5, 0.5);
  none.bulk = none.film = Resistance{};
  CHECK_THROWS_AS(brush_resistance(none, 0.5_N), std::invalid_argument);
}

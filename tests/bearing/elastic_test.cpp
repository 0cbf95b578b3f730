#include "ohmdrag/bearing/elastic.hpp"

#include <catch2/catch.hpp>

#include "bearing/reference_bearings.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::test;

TEST_CASE("reduced modulus of equal bodies is E/(1 - nu^2)", "[derived]") {
  CHECK_THAT(reduced_modulus(steel, steel), near(Pressure::from_value(206e9 / 0.91), 1e-12));
}

TEST_CASE("a rigid partner doubles the reduced modulus", "[derived]") {
  const Elastic rigid{.young_modulus = Pressure::from_value(1e25), .poisson = 0.3};
  CHECK_THAT(reduced_modulus(steel, rigid), near(2.0 * reduced_modulus(steel, steel), 1e-9));
  CHECK(reduced_modulus(steel, rigid) == reduced_modulus(rigid, steel));
}

TEST_CASE("a body without stiffness is refused", "[derived]") {
  CHECK_THROWS_AS(reduced_modulus({.young_modulus = Pressure{}, .poisson = 0.3}, steel),
                  std::invalid_argument);
  CHECK_THROWS_AS(reduced_modulus({.young_modulus = 206.0_GPa, .poisson = 1.0}, steel),
                  std::invalid_argument);
}

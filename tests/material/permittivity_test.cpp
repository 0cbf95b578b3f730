#include "ohmdrag/material/permittivity.hpp"

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::material;
using test::near;

namespace {

LubricantProperties oil(double permittivity) {
  return {.viscosity = Walther(25.0_mm2_s, 5.3_mm2_s, 0.7),
          .density_15 = 835.0_kg_m3,
          .conductivity = 0.135_W_mK,
          .specific_heat = SpecificHeat::from_value(2150.0),
          .permittivity = permittivity,
          .pressure_viscosity = PerPressure::from_value(1.6e-8)};
}

}  // namespace

TEST_CASE("oil at ambient pressure is not compressed", "[derived]") {
  CHECK(compression(Pressure{}) == 1.0);
  CHECK(compression(1.0_GPa) < compression(2.0_GPa));
  // 1 + 0.6/1.7 at most.
  CHECK_THAT(compression(Pressure::from_value(1e15)), near(1.352941, 1e-6));
  CHECK_THROWS_AS(compression(Pressure::from_value(-1.0)), std::invalid_argument);
}

TEST_CASE("permittivity follows density", "[derived]") {
  CHECK_THAT(permittivity_at_density(2.3, 1.0), near(2.3, 1e-12));
  CHECK_THAT(permittivity_at_density(2.3, 1e-9), near(1.0, 1e-8));
  CHECK(permittivity_at_density(1.0, 1.3) == 1.0);
  CHECK(permittivity_at_density(2.3, 1.2) > 2.3);
  CHECK_THROWS_AS(permittivity_at_density(0.9, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(permittivity_at_density(2.3, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(permittivity_at_density(20.0, 1.3), std::invalid_argument);
}

TEST_CASE("warm oil has less permittivity", "[derived]") {
  CHECK_THAT(permittivity_share(oil(2.3), 15.0_degC), near(1.0, 1e-12));
  CHECK_THAT(permittivity_share(oil(2.3), 25.0_degC), near(1.0, 6.2e-3));
  CHECK(permittivity_share(oil(2.3), 120.0_degC) < 0.95);
  CHECK(permittivity_share(oil(2.3), 0.0_degC) > 1.0);
}

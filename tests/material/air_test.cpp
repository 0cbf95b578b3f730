#include "ohmdrag/material/air.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using test::near;

TEST_CASE("air at sea level agrees with the standard atmosphere", "[printed]") {
  // U.S. Standard Atmosphere 1976, table at 0 m, 15 degC, 101 325 Pa (values from memory):
  // viscosity 1.7894e-5 Pa s, conductivity 0.025326 W/(m K), density 1.2250 kg/m3.
  CHECK_THAT(material::air_viscosity(15.0_degC), near(1.7894e-5_Pa_s, 1e-4));
  CHECK_THAT(material::air_conductivity(15.0_degC), near(0.025326_W_mK, 1e-4));
  CHECK_THAT(material::air_density(15.0_degC, material::standard_pressure),
             near(1.2250_kg_m3, 1e-4));
}

TEST_CASE("air grows more viscous and conductive with temperature, at a steady Prandtl number",
          "[derived]") {
  for (double degC = -40.0; degC < 200.0; degC += 20.0) {
    const Temperature t = from_celsius(degC);
    const Temperature hotter = from_celsius(degC + 1.0);
    CHECK(material::air_viscosity(hotter) > material::air_viscosity(t));
    CHECK(material::air_conductivity(hotter) > material::air_conductivity(t));
    CHECK(material::air_prandtl(t) == Approx(0.70).margin(0.03));
  }
}

TEST_CASE("air below absolute zero or without pressure is refused", "[derived]") {
  CHECK_THROWS_AS(material::air_viscosity(Temperature::from_value(-1.0)), std::invalid_argument);
  CHECK_THROWS_AS(material::air_conductivity(Temperature::from_value(std::nan(""))),
                  std::invalid_argument);
  CHECK_THROWS_AS(material::air_density(15.0_degC, 0.0_Pa), std::invalid_argument);
}

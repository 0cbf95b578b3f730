#include "ohmdrag/contact/convection.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

const TurningCylinder in_air{.wetted_factor = 1.0, .free_rise = 40.0_K};

HeatTransferCoefficient air_film(AngularVelocity n) {
  return film_coefficient(in_air, 40.0_mm, n, air_state(60.0_degC));
}

}  // namespace

TEST_CASE("a shaft at rest is cooled by free convection, not by nothing", "[derived]") {
  CHECK(air_film(0.0_rpm).value() > 5.0);
  CHECK_THAT(air_film(1.0_rpm), near(air_film(0.0_rpm), 1e-3));
}

TEST_CASE("a fast shaft loses its memory of free convection", "[derived]") {
  CHECK(air_film(8.0 * 1e4_rpm) / air_film(1e4_rpm) == Approx(4.0).epsilon(1e-3));
}

TEST_CASE("film coefficients rise with speed, whichever way the shaft turns", "[derived]") {
  for (double n = 0.0; n < 20000.0; n += 500.0)
    CHECK(air_film(from_rpm(n + 500.0)) > air_film(from_rpm(n)));
  CHECK(air_film(from_rpm(-3000.0)) == air_film(3000.0_rpm));
}

TEST_CASE("a splashed shaft sheds its wetted share", "[derived]") {
  const auto fluid = air_state(60.0_degC);
  const TurningCylinder splashed{.wetted_factor = 0.3, .free_rise = 40.0_K};
  CHECK_THAT(film_coefficient(splashed, 40.0_mm, 3000.0_rpm, fluid),
             near(0.3 * air_film(3000.0_rpm), 1e-14));
}

TEST_CASE("a stated film holds at every speed", "[derived]") {
  CHECK(film_coefficient(FixedFilm{40.0_W_m2K}, 40.0_mm, 0.0_rpm, {}) == 40.0_W_m2K);
  CHECK(outside_turning_cylinder(FixedFilm{40.0_W_m2K}, 40.0_mm, 0.0_rpm, {}).empty());
}

TEST_CASE("convection is flagged outside its Reynolds and Prandtl range", "[derived]") {
  FluidState fluid = air_state(60.0_degC);
  CHECK(outside_turning_cylinder(in_air, 40.0_mm, 3000.0_rpm, fluid).empty());
  fluid.prandtl = 5000.0;
  const auto flags = outside_turning_cylinder(in_air, 40.0_mm, 200000.0_rpm, fluid);
  REQUIRE(flags.size() == 2);
  CHECK(flags[0].quantity == "Reynolds number");
  CHECK(flags[1].quantity == "Prandtl number");
}

TEST_CASE("undefined convection is refused", "[derived]") {
  const auto fluid = air_state(60.0_degC);
  CHECK_THROWS_AS(film_coefficient(FixedFilm{}, 40.0_mm, 0.0_rpm, fluid), std::invalid_argument);
  CHECK_THROWS_AS(film_coefficient(in_air, 0.0_mm, 0.0_rpm, fluid), std::invalid_argument);
  CHECK_THROWS_AS(film_coefficient(TurningCylinder{0.0, 20.0_K}, 40.0_mm, 0.0_rpm, fluid),
                  std::invalid_argument);
  CHECK_THROWS_AS(film_coefficient(TurningCylinder{0.3, 0.0_K}, 40.0_mm, 0.0_rpm, fluid),
                  std::invalid_argument);
}

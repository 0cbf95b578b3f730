// A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units (SI), NIST
// Special Publication 811 (2008), appendix B.8. The factors below are from memory of that table;
// seven digits are printed there, fewer where the factor is exact.

#include <catch2/catch.hpp>

#include "ohmdrag/quantity/dimension.hpp"
#include "ohmdrag/quantity/read.hpp"

using namespace ohmdrag;
using D = Dimension;

TEST_CASE("conversion factors agree with the printed table", "[published][formula]") {
  struct Row {
    const char* text;
    Dimension dimension;
    double printed;
    double tolerance;  ///< relative; half a unit of the last printed digit, or rounding alone
  };
  constexpr double exact = 1e-14;
  const Row row = GENERATE(
      Row{"1 lbf", D::force, 4.448222, 1.2e-7}, Row{"1 in", D::length, 2.54e-2, exact},
      Row{"1 mi", D::length, 1.609344e3, exact}, Row{"1 lb", D::mass, 4.535924e-1, 1.2e-7},
      Row{"1 mph", D::speed, 4.4704e-1, exact}, Row{"1 km/h", D::speed, 2.777778e-1, 1.9e-7},
      Row{"1 cP", D::dynamic_viscosity, 1e-3, exact},
      Row{"1 cSt", D::kinematic_viscosity, 1e-6, exact}, Row{"1 bar", D::pressure, 1e5, exact},
      Row{"1 mbar", D::pressure, 1e2, exact}, Row{"1 kWh", D::energy, 3.6e6, exact},
      Row{"1 Wh", D::energy, 3.6e3, exact}, Row{"1 d", D::time, 8.64e4, exact},
      Row{"1 h", D::time, 3.6e3, exact}, Row{"1 a", D::time, 3.1536e7, exact},
      Row{"1 rpm", D::rotational_speed, 1.047198e-1, 4.8e-7}, Row{"1 t", D::mass, 1e3, exact},
      Row{"1 g/cm^3", D::density, 1e3, exact});
  CAPTURE(row.text);
  const auto read = read_quantity(row.text, row.dimension);
  REQUIRE(std::holds_alternative<Distribution>(read));
  CHECK(std::get<Distribution>(read).mid == Approx(row.printed).epsilon(row.tolerance));
}

TEST_CASE("degrees Fahrenheit follow the printed formula", "[published][formula]") {
  // T/K = (t/degF + 459.67)/1.8
  const double fahrenheit = GENERATE(-40.0, 0.0, 32.0, 98.6, 212.0, 400.0);
  const auto read = read_quantity(std::to_string(fahrenheit) + " degF", D::temperature);
  REQUIRE(std::holds_alternative<Distribution>(read));
  CHECK(std::get<Distribution>(read).mid == Approx((fahrenheit + 459.67) / 1.8).epsilon(1e-14));
}

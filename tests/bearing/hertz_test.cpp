#include "ohmdrag/bearing/hertz.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "bearing/reference_bearings.hpp"
#include "ohmdrag/bearing/elastic.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::test;

TEST_CASE("the ellipticity satisfies the Hertz condition as usually written", "[derived]") {
  // ((k^2 + 1) E - 2 F)/((k^2 - 1) E) = (r - 1)/(r + 1)
  const double r = GENERATE(1.01, 1.5, 2.0, 5.0, 10.0, 33.0, 100.0, 1e4);
  const auto [k, e, f] = ellipticity(r);
  CAPTURE(r, k);
  CHECK_THAT(((k * k + 1.0) * e - 2.0 * f) / ((k * k - 1.0) * e),
             near((r - 1.0) / (r + 1.0), 1e-9));
}

TEST_CASE("a circle at equal radii, approached smoothly", "[derived]") {
  const auto circle = ellipticity(1.0);
  CHECK(circle.ratio == 1.0);
  CHECK_THAT(circle.elliptic_e, near(0.5 * std::numbers::pi, 1e-14));
  CHECK_THAT(circle.elliptic_f, near(0.5 * std::numbers::pi, 1e-14));
  // k - 1 -> (2/3)(r - 1): series of both integrals.
  CHECK_THAT(ellipticity(1.0 + 1e-6).ratio - 1.0, near(2e-6 / 3.0, 1e-4));
}

TEST_CASE("the ellipticity refuses what has no such shape", "[derived]") {
  CHECK_THROWS_AS(ellipticity(0.99), std::invalid_argument);
  CHECK_THROWS_AS(ellipticity(std::numeric_limits<double>::infinity()), std::invalid_argument);
  CHECK_THROWS_AS(ellipticity(std::numeric_limits<double>::quiet_NaN()), std::invalid_argument);
}

TEST_CASE("the contact ellipse grows with the cube root of load", "[derived]") {
  const auto radii = inner_radii(bearing_6208(), 0.0);
  const Pressure modulus = reduced_modulus(steel, steel);
  const auto one = contact_ellipse(radii, modulus, 100.0_N);
  const auto eight = contact_ellipse(radii, modulus, 800.0_N);
  CHECK_THAT(eight.semi_major, near(2.0 * one.semi_major, 1e-12));
  CHECK_THAT(eight.max_pressure, near(2.0 * one.max_pressure, 1e-12));
  CHECK_THAT(eight.approach, near(4.0 * one.approach, 1e-12));
  CHECK_THAT(one.semi_major / one.semi_minor, near(one.shape.ratio, 1e-12));
  // The half-ellipsoid of pressure carries the load: (2/3) p A = Q.
  CHECK_THAT(Force(2.0 / 3.0 * one.max_pressure * one.area), near(100.0_N, 1e-12));
}

TEST_CASE("no load, no contact", "[derived]") {
  const auto none =
      contact_ellipse(inner_radii(bearing_6208(), 0.0), reduced_modulus(steel, steel), Force{});
  CHECK(none.area == Area{});
  CHECK(none.max_pressure == Pressure{});
  CHECK(none.approach == Length{});
}

TEST_CASE("contact ellipses of a 12 mm ball", "[derived]") {
  // Own arithmetic in another language, 1388.889 N, 206 GPa.
  struct Row {
    bool inner;
    double k, e, f, a_mm, b_mm, p_MPa, delta_um;
  };
  const Row row =
      GENERATE(Row{true, 9.31732, 1.01802, 3.62576, 1.68948, 0.181327, 2164.67, 12.5735},
               Row{false, 7.27788, 1.02726, 3.38244, 1.63716, 0.224949, 1800.67, 12.1047});
  const auto radii =
      row.inner ? inner_radii(reference_b1(), 0.0) : outer_radii(reference_b1(), 0.0);
  const auto contact =
      contact_ellipse(radii, reduced_modulus(steel, steel), Force::from_value(12500.0 / 9.0));
  CHECK_THAT(contact.shape.ratio, near(row.k, 2e-6));
  CHECK_THAT(contact.shape.elliptic_e, near(row.e, 5e-6));
  CHECK_THAT(contact.shape.elliptic_f, near(row.f, 2e-6));
  CHECK_THAT(contact.semi_major, near(Length::from_value(row.a_mm * 1e-3), 4e-6));
  CHECK_THAT(contact.semi_minor, near(Length::from_value(row.b_mm * 1e-3), 4e-6));
  CHECK_THAT(contact.max_pressure, near(Pressure::from_value(row.p_MPa * 1e6), 4e-6));
  CHECK_THAT(contact.approach, near(Length::from_value(row.delta_um * 1e-6), 5e-6));
}

TEST_CASE("line contact carries its load", "[derived]") {
  const auto strip = contact_strip(4.8_mm, 11.0_mm, reduced_modulus(steel, steel), 600.0_N);
  // Half an ellipse of pressure: (pi/2) b p l = Q.
  CHECK_THAT(Force(0.5 * std::numbers::pi * strip.half_width * 11.0_mm * strip.max_pressure),
             near(600.0_N, 1e-12));
  CHECK(contact_strip(4.8_mm, 11.0_mm, reduced_modulus(steel, steel), Force{}).half_width ==
        Length{});
  CHECK_THROWS_AS(contact_strip(Length{}, 11.0_mm, 226.0_GPa, 1.0_N), std::invalid_argument);
}

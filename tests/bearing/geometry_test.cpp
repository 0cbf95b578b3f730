#include "ohmdrag/bearing/geometry.hpp"

#include <catch2/catch.hpp>
#include <limits>
#include <numbers>

#include "bearing/reference_bearings.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::test;

TEST_CASE("equivalent radii of ball and grooves", "[derived]") {
  // By hand: gamma = 12/60; R_x = 6 mm (1 -+ 0.2); R_y = 0.52 * 12/0.04 = 156 mm.
  const auto b1 = reference_b1();
  CHECK_THAT(inner_radii(b1, 0.0).rolling, near(4.8_mm, 1e-12));
  CHECK_THAT(outer_radii(b1, 0.0).rolling, near(7.2_mm, 1e-12));
  CHECK_THAT(inner_radii(b1, 0.0).transverse, near(156.0_mm, 1e-12));
  // The radii of inner ring and ball path touch: 1/R_x = 2/D_w + 2/(d_m - D_w).
  CHECK_THAT(1.0 / inner_radii(b1, 0.0).rolling.value(), near(2.0 / 0.012 + 2.0 / 0.048, 1e-12));
  CHECK_THAT(groove_centre_distance(b1), near(0.48_mm, 1e-12));
}

TEST_CASE("entrainment speed", "[derived]") {
  const auto b1 = reference_b1();
  CHECK_THAT(entrainment_speed(b1, 6000.0_rpm), near(Speed::from_value(9.047787), 1e-7));
  CHECK(entrainment_speed(b1, Quantity<si::angular_velocity>{}) == Speed{});
  CHECK(entrainment_speed(b1, -6000.0_rpm) == entrainment_speed(b1, 6000.0_rpm));
  // At a right angle the ball would roll on the pitch circle itself: omega d_m/4.
  auto turned = b1;
  turned.contact_angle = 0.4999999 * std::numbers::pi;
  CHECK_THAT(entrainment_speed(turned, 1.0_rad_s), near(Speed::from_value(0.015), 1e-9));
}

TEST_CASE("impossible bearings are refused by name", "[derived]") {
  auto bearing = reference_b1();
  SECTION("balls") { bearing.balls = 2; }
  SECTION("ball diameter") { bearing.ball_diameter = Length{}; }
  SECTION("pitch diameter") { bearing.pitch_diameter = 12.0_mm; }
  SECTION("conformity") { bearing.conformity = 0.5; }
  SECTION("not a number") { bearing.conformity = std::numeric_limits<double>::quiet_NaN(); }
  SECTION("contact angle") { bearing.contact_angle = -0.1; }
  SECTION("clearance") { bearing.clearance = Length::from_value(-1e-6); }
  CHECK_THROWS_AS(require_valid(bearing), std::invalid_argument);
}

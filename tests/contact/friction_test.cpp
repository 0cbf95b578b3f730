#include "ohmdrag/contact/friction.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

constexpr MixedFilm lip{.boundary_friction = 0.5,
                        .film_coefficient = 5.5,
                        .transition_duty = 2e-5,
                        .load_share_exponent = 0.5,
                        .contact_width = 0.2_mm};

double friction(Speed u, LineForce f = 120.0_N_m, MixedFilm film = lip) {
  return friction_coefficient(film, 6.317_mPa_s, u, f);
}

}  // namespace

TEST_CASE("a lip at rest has its boundary friction", "[derived]") {
  CHECK(friction(0.0_m_s) == 0.5);
  CHECK(friction(1e-9_m_s) == Approx(0.5).epsilon(1e-3));
}

TEST_CASE("a fast lip follows the cube root of the duty parameter", "[derived]") {
  MixedFilm wide = lip;
  wide.contact_width = 1.6_mm;
  const double f = friction(1000.0_m_s);
  CHECK(friction(8000.0_m_s) == Approx(2.0 * f).epsilon(1e-6));
  CHECK(friction(1000.0_m_s, 120.0_N_m, wide) == Approx(2.0 * f).epsilon(1e-6));
  CHECK(friction(1000.0_m_s, 15.0_N_m) == Approx(2.0 * f).epsilon(1e-6));
}

TEST_CASE("friction times force vanishes with the force", "[derived]") {
  const double a = friction(10.0_m_s, 1e-3_N_m) * 1e-3;
  const double b = friction(10.0_m_s, 1e-6_N_m) * 1e-6;
  CHECK(b == Approx(a * std::pow(1e-3, 2.0 / 3.0)).epsilon(1e-6));
}

TEST_CASE("friction does not depend on the sense of rotation", "[derived]") {
  CHECK(friction(-5.0_m_s) == friction(5.0_m_s));
}

TEST_CASE("a lip's force grows its drag, its speed its power", "[derived]") {
  for (double u = 0.01; u < 40.0; u *= 1.5) {
    const Speed speed = Speed::from_value(u);
    const Speed faster = Speed::from_value(1.01 * u);
    CHECK(friction(speed, 121.0_N_m) * 121.0 > friction(speed) * 120.0);
    CHECK(friction(faster) * 1.01 > friction(speed));
  }
}

TEST_CASE("the slope of mixed friction is that of its values", "[derived]") {
  const double duty = GENERATE(1e-7, 1e-5, 4e-5, 3e-4, 2e-2);
  const auto at = [](double g) { return mixed_film_point(lip, g).friction; };
  const double h = 1e-5;
  const double slope = (at(duty * std::exp(h)) - at(duty * std::exp(-h))) / (2.0 * h);
  CHECK(mixed_film_point(lip, duty).per_log_duty == Approx(slope).epsilon(1e-6).margin(1e-9));
}

TEST_CASE("mixed friction never exceeds the larger of its two limits", "[derived]") {
  for (double duty = 1e-9; duty < 1.0; duty *= 2.0) {
    const auto point = mixed_film_point(lip, duty);
    CHECK(point.friction <= std::max(0.5, point.film_friction));
  }
}

TEST_CASE("a dry contact has one friction coefficient", "[derived]") {
  CHECK(friction_coefficient(ConstantFriction{0.2}, {}, 0.0_m_s, {}) == 0.2);
  CHECK(friction_coefficient(ConstantFriction{0.2}, {}, 30.0_m_s, {}) == 0.2);
}

TEST_CASE("break-away torque is an answer of its own", "[derived]") {
  const Force load = radial_load(120.0_N_m, 40.0_mm);
  CHECK_THAT(break_away_torque(lip, load, 40.0_mm, 1.2),
             near(friction_torque(0.5, load, 40.0_mm), 1e-15));
  CHECK_THAT(break_away_torque(ConstantFriction{0.2}, load, 40.0_mm, 1.2),
             near(friction_torque(0.24, load, 40.0_mm), 1e-15));
}

TEST_CASE("force readings convert into each other", "[derived]") {
  CHECK_THAT(line_force_from_total(radial_load(10.0_N_m, 45.0_mm), 45.0_mm), near(10.0_N_m, 1e-15));
  CHECK_THAT(radial_load(0.0_N_m, 45.0_mm), near(0.0_N, 0.0));
}

TEST_CASE("the mixed film is flagged outside its duty range, not at rest", "[derived]") {
  CHECK_FALSE(outside_mixed_film(0.0));
  CHECK_FALSE(outside_mixed_film(1e-4));
  CHECK(outside_mixed_film(2.9e-5));
  CHECK(outside_mixed_film(2.1e-3)->high == 2e-3);
}

TEST_CASE("undefined friction input is refused", "[derived]") {
  MixedFilm bad = lip;
  bad.transition_duty = 0.0;
  CHECK_THROWS_AS(friction(1.0_m_s, 120.0_N_m, bad), std::invalid_argument);
  bad = lip;
  bad.contact_width = Length::from_value(std::nan(""));
  CHECK_THROWS_AS(check(bad), std::invalid_argument);
  CHECK_THROWS_AS(friction(1.0_m_s, 0.0_N_m), std::invalid_argument);
  CHECK_THROWS_AS(friction_coefficient(lip, {}, 1.0_m_s, 1.0_N_m), std::invalid_argument);
  CHECK_THROWS_AS(check(ConstantFriction{-0.1}), std::invalid_argument);
  CHECK_THROWS_AS(radial_load(10.0_N_m, 0.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(line_force_from_split_reading(-1.0_N, 40.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(friction_torque(std::nan(""), 1.0_N, 40.0_mm), std::invalid_argument);
}

#include "ohmdrag/contact/wet_contact.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

// Invented ring, 4 mm wide on a 40 mm shaft.
const WettedRing ring{.film = {.boundary_friction = 0.12,
                               .film_coefficient = 2.0,
                               .transition_duty = 2e-4,
                               .load_share_exponent = 0.5,
                               .contact_width = 4.0_mm},
                      .residual_oil = 10.0,
                      .oil_thickness = Length::from_value(0.5e-6),
                      .oil_permittivity = 2.3};
const DryResistance dry{.bulk = 8.0_ohm,
                        .film = 22.0_ohm,
                        .at_line_force = 10.0_N_m,
                        .at_force = 0.5_N,
                        .at_diameter = 40.0_mm,
                        .count_exponent = 0.5,
                        .film_exponent = 0.75};
constexpr DynamicViscosity thin = DynamicViscosity::from_value(6e-3);

WettedState at(double u_m_s, const WettedRing& r = ring) {
  return wetted_ring(r, dry, 10.0_N_m, 40.0_mm, thin, Speed::from_value(u_m_s));
}

}  // namespace

TEST_CASE("an oily ring never promises its resistance", "[derived]") {
  for (const double u : {0.0, 1e-4, 0.1, 3.0, 60.0, 1e4}) {
    REQUIRE_FALSE(at(u).flags.empty());
    CHECK(at(u).flags.front().formula.starts_with("contact resistance not guaranteed"));
  }
}

TEST_CASE("at rest all force is on the fibres: an oily dry contact", "[derived]") {
  const auto state = at(0.0);
  CHECK(state.load_share == 1.0);
  CHECK(state.friction == 0.12);
  REQUIRE(state.resistance);
  CHECK_THAT(*state.resistance, near(10.0 * ring_resistance(dry, 10.0_N_m, 40.0_mm).value, 1e-15));
  CHECK(state.capacitance.value() == 0.0);
}

TEST_CASE("fast in oil the ring floats off: an open contact with a capacitance", "[derived]") {
  const auto state = at(1e9);
  CHECK(state.load_share == 0.0);
  CHECK_FALSE(state.resistance);
  // eps_0 2.3 pi 40 mm 4 mm / 0.5 um = 20.5 nF
  CHECK_THAT(state.capacitance, near(Capacitance::from_value(20.47e-9), 1e-3));
}

TEST_CASE("one load share serves friction and current", "[derived]") {
  for (const double u : {0.01, 0.3, 1.0, 10.0}) {
    const auto state = at(u);
    const double s = state.load_share;
    const double duty = duty_parameter(thin, Speed::from_value(u), 10.0_N_m);
    const double film = mixed_film_point(ring.film, duty).film_friction;
    CHECK(state.friction == Approx(0.12 * s + (1.0 - s) * film).epsilon(1e-14));
    REQUIRE(state.resistance);
    CHECK_THAT(*state.resistance,
               near(10.0 * ring_resistance(dry, s * 10.0_N_m, 40.0_mm).value, 1e-14));
  }
}

TEST_CASE("resistance and capacitance rise with speed, whichever way", "[derived]") {
  double ohm = 0.0;
  double farad = -1.0;
  for (double u = 0.0; u < 20.0; u = 1.4 * u + 1e-3) {
    const auto state = at(u);
    REQUIRE(state.resistance);
    CHECK(state.resistance->value() > ohm);
    CHECK(state.capacitance.value() > farad);
    CHECK(at(-u).resistance == state.resistance);
    CHECK(at(-u).friction == state.friction);
    ohm = state.resistance->value();
    farad = state.capacitance.value();
  }
}

TEST_CASE("flags of the film and of the dry law are passed on", "[derived]") {
  const auto has = [](const WettedState& state, std::string_view formula) {
    for (const auto& flag : state.flags)
      if (flag.formula == formula) return true;
    return false;
  };
  CHECK(has(at(60.0), "mixed film of a lip"));
  CHECK_FALSE(has(at(0.3), "mixed film of a lip"));
  CHECK(has(at(1.0), "resistance of a dry contact over force"));
  CHECK_FALSE(has(at(0.01), "resistance of a dry contact over force"));
}

TEST_CASE("an undefined oily ring is refused", "[derived]") {
  const auto with = [](auto&& change) {
    WettedRing changed = ring;
    change(changed);
    CHECK_THROWS_AS(at(1.0, changed), std::invalid_argument);
  };
  with([](WettedRing& r) { r.residual_oil = 0.9; });
  with([](WettedRing& r) { r.oil_thickness = Length{}; });
  with([](WettedRing& r) { r.oil_permittivity = 0.0; });
  with([](WettedRing& r) { r.film.transition_duty = 0.0; });
  CHECK_THROWS_AS(wetted_ring(ring, dry, LineForce{}, 40.0_mm, thin, Speed::from_value(1.0)),
                  std::invalid_argument);
  CHECK_THROWS_AS(wetted_ring(ring, dry, 10.0_N_m, 0.0_mm, thin, Speed::from_value(1.0)),
                  std::invalid_argument);
  CHECK_THROWS_AS(solid_load_share(ring.film, -1.0), std::invalid_argument);
}

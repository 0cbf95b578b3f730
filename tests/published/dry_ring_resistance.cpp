#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/contact/element_design.hpp"
#include "ohmdrag/contact/wet_contact.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

// Force and resistance of a conductive ring, dry, oily and out of true. Laws derived (parallel
// contacts, linear stiffness); exponent of a spot between 1/2 and 1 after R. Holm, Electric
// Contacts (1967), from memory; all parameters assumed. No measured contact stands behind any
// value.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;
using test::within;

namespace {

PerTemperature per_K(double value) { return PerTemperature::from_value(value); }

DryResistance law(double count_exponent, double film_exponent) {
  return {.bulk = 8.0_ohm,
          .film = 22.0_ohm,
          .at_line_force = 10.0_N_m,
          .at_force = {},
          .at_diameter = 40.0_mm,
          .count_exponent = count_exponent,
          .film_exponent = film_exponent};
}

// q 0.5 and m 0.75: film exponent m + q (1 - m) = 0.875.
const DryResistance usual = law(0.5, 0.75);

const WettedRing oily{.film = {.boundary_friction = 0.2,
                               .film_coefficient = 2.0,
                               .transition_duty = 2e-4,
                               .load_share_exponent = 0.5,
                               .contact_width = 4.0_mm},
                      .residual_oil = 10.0,
                      .oil_thickness = 0.5_um,
                      .oil_permittivity = 2.3};

WettedState wetted(Speed u) { return wetted_ring(oily, usual, 10.0_N_m, 40.0_mm, 6.317_mPa_s, u); }

}  // namespace

TEST_CASE("resistance of a dry ring over force and diameter", "[published][derived]") {
  struct Row {
    LineForce line_force;
    Length diameter;
    Resistance expected;
  };
  // By hand: 8 x^-0.5 + 22 x^-0.875, times 40 mm over the diameter.
  const auto row = GENERATE(Row{10.0_N_m, 40.0_mm, 30.0_ohm}, Row{5.0_N_m, 40.0_mm, 51.662_ohm},
                            Row{20.0_N_m, 40.0_mm, 17.653_ohm}, Row{10.0_N_m, 60.0_mm, 20.0_ohm},
                            Row{10.0_N_m, 20.0_mm, 60.0_ohm});
  CHECK_THAT(ring_resistance(usual, row.line_force, row.diameter).value, near(row.expected, 1e-4));
  CHECK(ring_resistance(usual, row.line_force, row.diameter).flags.empty());
}

TEST_CASE("force may not be what sets the resistance of a ring", "[published][derived]") {
  CHECK(ring_resistance(law(0.0, 0.0), 4.0_N_m, 40.0_mm).value == 30.0_ohm);
  CHECK(ring_resistance(law(0.0, 0.0), 29.0_N_m, 40.0_mm).value == 30.0_ohm);
}

TEST_CASE("a dry ring is not extrapolated beyond three times its reference in silence",
          "[published][derived]") {
  CHECK(ring_resistance(usual, 29.9_N_m, 40.0_mm).flags.empty());
  CHECK(ring_resistance(usual, 30.1_N_m, 40.0_mm).flags.size() == 1);
  CHECK(ring_resistance(usual, 3.3_N_m, 40.0_mm).flags.size() == 1);
}

TEST_CASE("a ring worn to a third of its force resists 2.4 times as much", "[published][derived]") {
  // Film part alone at exponent 0.75, 31 % of the force left by wear.
  DryResistance film = law(0.0, 0.75);
  film.bulk = Resistance{};
  const auto new_ring = ring_resistance(film, 10.0_N_m, 40.0_mm).value;
  CHECK((ring_resistance(film, 3.1_N_m, 40.0_mm).value / new_ring).value() ==
        Approx(2.4).margin(0.05));
}

TEST_CASE("an oily ring floats off: an open contact and a capacitor", "[published][derived]") {
  // At rest S = 1: ten times the dry resistance. Afloat: eps_0 2.3 pi d b/h_f = 20.5 nF.
  CHECK_THAT(*wetted(0.0_m_s).resistance, near(300.0_ohm, 1e-12));
  CHECK(wetted(0.0_m_s).capacitance.value() == 0.0);
  const auto afloat = wetted(1e9_m_s);
  CHECK_FALSE(afloat.resistance);
  CHECK_THAT(afloat.capacitance, near(20.5_nF, 2e-3));
  for (const Speed& u : {0.0_m_s, 1.0_m_s, 30.0_m_s}) {
    REQUIRE_FALSE(wetted(u).flags.empty());
    CHECK(wetted(u).flags[0].formula.starts_with("contact resistance not guaranteed"));
  }
}

TEST_CASE("an oily ring carries force and current by one share", "[published][derived]") {
  // S = exp[-(G/G_c)^0.5], G = 6.317e-3 * 1/10 = 6.317e-4: exp(-1.7772) = 0.16911, by hand.
  const auto state = wetted(1.0_m_s);
  CHECK(state.load_share == Approx(0.16911).epsilon(1e-4));
  CHECK_THAT(*state.resistance,
             near(10.0 * ring_resistance(usual, 1.6911_N_m, 40.0_mm).value, 2e-4));
  CHECK_THAT(state.capacitance, near((1.0 - 0.16911) * 20.472_nF, 3e-4));
}

TEST_CASE("run-out takes force once a turn", "[published][derived]") {
  // 1 - kappa_d e/delta: 0.05 mm of eccentricity on 0.5 mm of interference, stiffened twice, leave
  // 0.80. Flagged above one half; at 1 and beyond the contact opens once a turn.
  const auto least = [](Length reading, Length eccentric, Length interference) {
    return least_line_force(10.0_N_m, interference,
                            {.total_indicator_reading = reading,
                             .static_eccentricity = eccentric,
                             .dynamic_stiffening = 2.0});
  };
  CHECK_THAT(least(0.1_mm, 0.0_mm, 0.5_mm).least, near(8.0_N_m, 1e-12));
  CHECK_THAT(least(0.04_mm, 0.03_mm, 0.5_mm).least, near(8.0_N_m, 1e-12));
  CHECK(least(0.1_mm, 0.0_mm, 0.5_mm).flags.empty());
  CHECK(least(0.3_mm, 0.0_mm, 0.5_mm).flags.size() == 1);
  CHECK(least(0.5_mm, 0.0_mm, 0.5_mm).opens_each_turn);
  CHECK(least(0.5_mm, 0.0_mm, 0.5_mm).least == 0.0_N_m);
  // The largest resistance of a turn is that of the least force.
  CHECK(ring_resistance(usual, least(0.1_mm, 0.0_mm, 0.5_mm).least, 40.0_mm).value >
        ring_resistance(usual, 10.0_N_m, 40.0_mm).value);
}

// Coefficients from memory (carbon -0.0007, metal +0.004, filled PTFE +0.002 per kelvin); the rise
// with speed is assumed, 30 m/s doubling it.
TEST_CASE("resistance of a running contact over a resting one", "[published][derived]") {
  const RunningResistance carbon{per_K(-0.0007), 30.0_m_s, 1.0};
  CHECK(running_factor(carbon, 20.0_degC, {}) == Approx(1.0));
  CHECK(running_factor(carbon, 100.0_degC, {}) == Approx(0.944));
  CHECK(running_factor(carbon, 20.0_degC, 30.0_m_s) == Approx(2.0));
  CHECK(running_factor(carbon, 20.0_degC, -30.0_m_s) == Approx(2.0));
  CHECK(running_factor({per_K(0.004), 30.0_m_s, 0.0}, 100.0_degC, 30.0_m_s) == Approx(1.32));
  CHECK(running_factor({per_K(0.002), 30.0_m_s, 2.0}, 70.0_degC, 15.0_m_s) == Approx(1.1 * 1.25));
  CHECK_THROWS_AS(running_factor({per_K(-0.0007), 30.0_m_s, 1.0}, from_celsius(1600.0), {}),
                  std::invalid_argument);
  CHECK_THROWS_AS(running_factor({per_K(0.0), {}, 1.0}, 20.0_degC, {}), std::invalid_argument);
}

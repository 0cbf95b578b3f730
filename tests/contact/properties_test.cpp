// What must hold whatever the numbers are: random inputs of a fixed seed over all orders of
// magnitude that a shaft can meet. Friction and resistance.

#include <cmath>

#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/contact/ptfe_friction.hpp"
#include "ohmdrag/contact/wet_contact.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"
#include "support/random_input.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::check_continuous;
using test::RandomInput;

namespace {

constexpr int trials = 300;
constexpr unsigned seed = 20240517;

MixedFilm some_film(RandomInput& random) {
  return {.boundary_friction = random.uniform(0.05, 1.5),
          .film_coefficient = random.uniform(1.0, 9.0),
          .transition_duty = random.over_decades(1e-6, 1e-3),
          .load_share_exponent = random.uniform(0.3, 1.5),
          .contact_width = Length::from_value(random.over_decades(5e-5, 5e-3))};
}

DryResistance some_resistance(RandomInput& random) {
  return {.bulk = Resistance::from_value(random.over_decades(1e-3, 1e4)),
          .film = Resistance::from_value(random.over_decades(1e-3, 1e4)),
          .at_line_force = LineForce::from_value(random.over_decades(1.0, 100.0)),
          .at_force = Force::from_value(random.over_decades(0.1, 10.0)),
          .at_diameter = Length::from_value(random.uniform(0.01, 0.2)),
          .count_exponent = random.uniform(0.0, 1.0),
          .film_exponent = random.uniform(0.0, 1.0)};
}

}  // namespace

TEST_CASE("friction of a mixed film is finite, positive and blind to direction", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const MixedFilm film = some_film(random);
    const auto eta = DynamicViscosity::from_value(random.over_decades(1e-4, 10.0));
    const auto u = Speed::from_value(random.over_decades(1e-6, 200.0));
    const auto f = LineForce::from_value(random.over_decades(0.1, 1000.0));
    const double friction = friction_coefficient(film, eta, u, f);
    CHECK(std::isfinite(friction));
    CHECK(friction > 0.0);
    CHECK(friction == friction_coefficient(film, eta, -u, f));
    CHECK(friction_coefficient(film, eta, Speed{}, f) == film.boundary_friction);
  }
}

TEST_CASE("above its minimum friction of a film rises with the duty parameter", "[derived]") {
  // A minimum may lie anywhere: the film's own friction, the limit of a fast lip, rises always, and
  // once it carries nearly all of the load so does their sum.
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const MixedFilm film = some_film(random);
    double duty = random.over_decades(1e-9, 1e-4);
    double film_before = 0.0;
    double before = 0.0;
    bool rising = false;
    for (int step = 0; step < 200; ++step, duty *= 1.1) {
      const auto point = mixed_film_point(film, duty);
      CHECK(point.film_friction > film_before);
      const double share = solid_load_share(film, duty);
      CHECK(share >= 0.0);
      CHECK(share <= 1.0);
      if (rising && share < 1e-3) CHECK(point.friction > before * (1.0 - 1e-12));
      rising = share < 1e-3;
      film_before = point.film_friction;
      before = point.friction;
    }
  }
}

TEST_CASE("the load share of a wider duty only falls", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const MixedFilm film = some_film(random);
    const double duty = random.over_decades(1e-9, 1e-1);
    CHECK(solid_load_share(film, 1.01 * duty) <= solid_load_share(film, duty));
  }
}

TEST_CASE("friction of a mixed film has no jump over speed, oil or force", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const MixedFilm film = some_film(random);
    check_continuous([&](double duty) { return mixed_film_point(film, duty).friction; },
                     random.over_decades(1e-10, 1e-1));
    check_continuous([&](double duty) { return mixed_film_point(film, duty).friction; },
                     film.transition_duty);
  }
}

TEST_CASE("constant friction grows in proportion to force, and with diameter squared and speed",
          "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const double mu = random.over_decades(1e-3, 2.0);
    const auto f = LineForce::from_value(random.over_decades(0.1, 1000.0));
    const auto d = Length::from_value(random.over_decades(1e-3, 1.0));
    const auto omega = AngularVelocity::from_value(random.over_decades(0.01, 5000.0));
    const auto watts = [&](LineForce force, Length diameter, AngularVelocity speed) {
      return Power(friction_torque(mu, radial_load(force, diameter), diameter) * speed).value();
    };
    const double base = watts(f, d, omega);
    CHECK(base > 0.0);
    const double more = random.uniform(1.01, 3.0);
    CHECK(watts(more * f, d, omega) == Approx(more * base).epsilon(1e-12));
    CHECK(watts(f, more * d, omega) == Approx(more * more * base).epsilon(1e-12));
    CHECK(watts(f, d, more * omega) == Approx(more * base).epsilon(1e-12));
    CHECK(watts(LineForce{}, d, omega) == 0.0);
    CHECK(watts(f, d, AngularVelocity{}) == 0.0);
  }
}

TEST_CASE("contact resistance is positive, falls with force and has no jump", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const DryResistance law = some_resistance(random);
    const auto d = Length::from_value(random.over_decades(5e-3, 0.3));
    const double f = random.over_decades(0.01, 1000.0);
    const double more = random.uniform(1.0, 4.0);
    const auto ring = [&](double N_m) {
      return ring_resistance(law, LineForce::from_value(N_m), d).value.value();
    };
    const auto brush = [&](double N) {
      return brush_resistance(law, Force::from_value(N)).value.value();
    };
    CHECK(ring(f) > 0.0);
    CHECK(ring(more * f) <= ring(f) * (1.0 + 1e-14));
    CHECK(brush(more * f) <= brush(f) * (1.0 + 1e-14));
    check_continuous(ring, f);
    // The bounds of the fit are flags, not clamps.
    check_continuous(ring, 3.0 * law.at_line_force.value());
    check_continuous(ring, law.at_line_force.value() / 3.0);
    check_continuous(brush, 3.0 * law.at_force.value());
  }
}

TEST_CASE("an oily ring conducts the worse the faster it runs, without a jump", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const WettedRing ring{.film = some_film(random),
                          .residual_oil = random.over_decades(1.0, 1e4),
                          .oil_thickness = Length::from_value(random.over_decades(5e-8, 5e-6)),
                          .oil_permittivity = random.uniform(1.0, 5.0)};
    const DryResistance dry = some_resistance(random);
    const auto f = LineForce::from_value(random.over_decades(1.0, 100.0));
    const auto eta = DynamicViscosity::from_value(random.over_decades(1e-3, 0.1));
    const auto at = [&](double u_m_s) {
      return wetted_ring(ring, dry, f, 40.0_mm, eta, Speed::from_value(u_m_s));
    };
    const double u = random.over_decades(1e-5, 0.3);
    const auto slow = at(u);
    const auto fast = at(1.3 * u);
    CHECK(slow.friction > 0.0);
    CHECK(slow.capacitance.value() >= 0.0);
    CHECK(fast.load_share <= slow.load_share);
    CHECK(fast.capacitance.value() >= slow.capacitance.value());
    if (slow.resistance && fast.resistance)
      CHECK(*fast.resistance >= *slow.resistance * (1.0 - 1e-14));
    check_continuous([&](double v) { return at(v).friction; }, u);
    CHECK_FALSE(slow.flags.empty());
  }
}

TEST_CASE("friction of PTFE is finite, positive, and steps nowhere", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const PtfeFriction law{.slow_coefficient = random.uniform(0.05, 0.3),
                           .middle_coefficient = random.uniform(0.1, 0.5),
                           .fast_coefficient = random.uniform(0.1, 0.7),
                           .filled_factor = random.uniform(0.5, 2.0),
                           .least_pressure = 0.05_MPa};
    const double p_Pa = random.over_decades(1e2, 1e8);
    const double u_m_s = random.over_decades(1e-5, 100.0);
    const auto over_speed = [&](double u) {
      return ptfe_friction(law, Pressure::from_value(p_Pa), Speed::from_value(u)).coefficient;
    };
    const auto over_pressure = [&](double p) {
      return ptfe_friction(law, Pressure::from_value(p), Speed::from_value(u_m_s)).coefficient;
    };
    CHECK(over_speed(u_m_s) > 0.0);
    CHECK(std::isfinite(over_speed(u_m_s)));
    CHECK(over_speed(-u_m_s) == over_speed(u_m_s));
    CHECK(over_pressure(1.5 * p_Pa) <= over_pressure(p_Pa));
    for (const double u : {u_m_s, 0.01, 0.05, 0.5}) check_continuous(over_speed, u);
    for (const double p : {p_Pa, 0.05e6}) check_continuous(over_pressure, p);
  }
}

// What must hold of contacts on a shaft whatever the numbers are: random inputs of a fixed seed.

#include <cmath>

#include "component/reference_shaft.hpp"
#include "ohmdrag/component/shaft_march.hpp"
#include "support/near.hpp"
#include "support/random_input.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using namespace ohmdrag::component;

namespace {

constexpr int trials = 120;
constexpr unsigned seed = 20240518;

Surroundings some_air(RandomInput& random) {
  return {from_celsius(random.uniform(-30.0, 140.0)), from_celsius(random.uniform(-30.0, 140.0))};
}

ShaftSystem some_shaft(RandomInput& random) {
  auto seal = lip(LineForce::from_value(random.over_decades(5.0, 300.0)), 0.0_mm,
                  Length::from_value(random.over_decades(5e-5, 1e-3)));
  // A thin lip on a half-space of 1 mm.
  if (seal.contact_width >= 0.9_mm) seal.to_body = std::nullopt;
  auto felt = ring(LineForce::from_value(random.over_decades(1.0, 50.0)),
                   Length::from_value(random.uniform(0.0, 0.03)), random.uniform(0.05, 0.6));
  auto system = shaft({seal, felt});
  if (random.uniform(0.0, 1.0) < 0.5) {
    system.oil_side_length = Length::from_value(random.uniform(0.01, 0.2));
    system.dry_side_length = felt.position + Length::from_value(random.uniform(0.0, 0.2));
    system.bore = Length::from_value(random.uniform(0.0, 0.015));
  }
  if (random.uniform(0.0, 1.0) < 0.7) {
    system.oil_side = contact::TurningCylinder{random.uniform(0.1, 1.0), 20.0_K};
    system.dry_side = contact::TurningCylinder{1.0, 20.0_K};
  }
  return system;
}

}  // namespace

TEST_CASE("every shaft makes power, never takes it, and loses what it makes", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const auto system = some_shaft(random);
    const auto around = some_air(random);
    const AngularVelocity speed = from_rpm(random.uniform(-40000.0, 40000.0));
    const auto state = solve(system, speed, around);
    double made = 0.0, received = (state.into_oil_side + state.into_dry_side).value();
    for (const auto& c : state.contacts) {
      CHECK(std::isfinite(c.power.value()));
      CHECK(c.power.value() >= 0.0);
      CHECK(c.torque.value() * speed.value() >= 0.0);
      made += c.power.value();
      received += c.into_body.value();
    }
    CHECK(received == Approx(made).margin(1e-7 * (1.0 + made)));
    const auto back = solve(system, -speed, around);
    for (std::size_t c = 0; c < 2; ++c) CHECK(back.contacts[c].power == state.contacts[c].power);
  }
}

TEST_CASE("a contact runs no colder than it would without friction", "[derived]") {
  RandomInput random(seed + 1);
  for (int i = 0; i < trials; ++i) {
    const auto system = some_shaft(random);
    const auto around = some_air(random);
    const AngularVelocity speed = from_rpm(random.over_decades(1.0, 40000.0));
    const ThermalNetwork network(system, speed, around);
    const auto state = solve(network, system, speed, around);
    for (std::size_t c = 0; c < 2; ++c) {
      CHECK(state.contacts[c].contact.value() >= network.idle(c).value() - 1e-9);
      for (std::size_t other = 0; other < 2; ++other) {
        CHECK(network.resistance(c, other).value() >= 0.0);
        CHECK(network.resistance(c, other).value() ==
              Approx(network.resistance(other, c).value()).epsilon(1e-9));
      }
    }
  }
}

TEST_CASE("dry power rises with force, friction and speed on every shaft", "[derived]") {
  RandomInput random(seed + 2);
  for (int i = 0; i < trials; ++i) {
    auto system = some_shaft(random);
    const auto around = some_air(random);
    const AngularVelocity speed = from_rpm(random.over_decades(1.0, 20000.0));
    const auto power = [&](const ShaftSystem& s, AngularVelocity w) {
      return solve(s, w, around).contacts[1].power.value();
    };
    const double base = power(system, speed);
    CHECK(power(system, 1.5 * speed) == Approx(1.5 * base).epsilon(1e-12));
    auto pressed = system;
    pressed.contacts[1].load = 2.0 * system.contacts[1].load;
    CHECK(power(pressed, speed) == Approx(2.0 * base).epsilon(1e-12));
    // Its heat reaches the lip, whose oil gets thinner.
    CHECK(solve(pressed, speed, around).contacts[0].contact >=
          solve(system, speed, around).contacts[0].contact);
  }
}

TEST_CASE("power of a shaft has no jump over speed", "[derived]") {
  RandomInput random(seed + 3);
  for (int i = 0; i < trials; ++i) {
    const auto system = some_shaft(random);
    const auto around = some_air(random);
    for (std::size_t c = 0; c < 2; ++c)
      check_continuous(
          [&](double rad_s) {
            return solve(system, AngularVelocity::from_value(rad_s), around)
                .contacts[c]
                .power.value();
          },
          from_rpm(random.over_decades(1.0, 40000.0)).value());
  }
}

TEST_CASE("a march makes heat, stores it and gives it off, whatever it meets", "[derived]") {
  RandomInput random(seed + 4);
  for (int i = 0; i < 25; ++i) {
    const auto system = some_shaft(random);
    ShaftMarch march(system, {7850.0_kg_m3, SpecificHeat::from_value(470.0)},
                     from_celsius(random.uniform(-30.0, 140.0)));
    for (int leg = 0; leg < 6; ++leg) {
      const auto step = march.step(from_rpm(random.uniform(-40000.0, 40000.0)), some_air(random),
                                   Time::from_value(random.over_decades(1e-3, 1e4)));
      CHECK(step.friction.value() >= 0.0);
      const double flows = std::abs(step.stored.value()) + std::abs(step.into_oil.value()) +
                           std::abs(step.into_dry.value());
      CHECK((step.friction - step.stored - step.into_oil - step.into_dry).value() ==
            Approx(0.0).margin(1e-6 * flows));
    }
  }
}

#include "ohmdrag/bearing/friction_torque.hpp"

#include <catch2/catch.hpp>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

const PalmgrenConstants ball{.torque_factor = 2.0,
                             .load_torque_factor = 0.0005,
                             .load_torque_exponent = 0.55,
                             .pitch_diameter = 60.0_mm,
                             .static_rating = 18144.0_N};

}  // namespace

TEST_CASE("a resting bearing takes no torque, either direction the same", "[derived]") {
  const auto rest = palmgren_torque(ball, 10.0_mm2_s, AngularVelocity{}, 2000.0_N, Force{});
  CHECK(rest.total() == Torque{});
  const auto forth = palmgren_torque(ball, 10.0_mm2_s, 3000.0_rpm, 2000.0_N, 100.0_N);
  const auto back = palmgren_torque(ball, 10.0_mm2_s, -3000.0_rpm, -2000.0_N, -100.0_N);
  CHECK(forth.total() == back.total());
  CHECK(forth.total() > Torque{});
}

TEST_CASE("the viscous part steps down by 0.79 % at nu n = 2000", "[derived]") {
  const auto below = palmgren_torque(ball, 1.0_mm2_s, 1999.999_rpm, Force{}, Force{});
  const auto above = palmgren_torque(ball, 1.0_mm2_s, 2000.001_rpm, Force{}, Force{});
  CHECK_THAT(above.viscous / below.viscous, near(158.740105 / 160.0, 1e-6));
  CHECK(below.load == Torque{});
}

TEST_CASE("axial load enters friction above about a third of the radial", "[derived]") {
  const auto torque = [](Force radial, Force axial) {
    return palmgren_torque(ball, 10.0_mm2_s, 3000.0_rpm, radial, axial).load;
  };
  CHECK(torque(1000.0_N, 366.0_N) == torque(1000.0_N, Force{}));
  CHECK(torque(1000.0_N, 368.0_N) > torque(1000.0_N, Force{}));
  CHECK(torque(Force{}, 500.0_N) > Torque{});
}

TEST_CASE("torque rises with load, speed and viscosity", "[derived]") {
  const auto torque = [](double nu_mm2_s, double rpm, double load_N) {
    return palmgren_torque(ball, KinematicViscosity::from_value(nu_mm2_s * 1e-6), from_rpm(rpm),
                           Force::from_value(load_N), Force{})
        .total();
  };
  CHECK(torque(10.0, 3000.0, 2000.0) > torque(10.0, 3000.0, 1000.0));
  CHECK(torque(10.0, 6000.0, 1000.0) > torque(10.0, 3000.0, 1000.0));
  CHECK(torque(20.0, 3000.0, 1000.0) > torque(10.0, 3000.0, 1000.0));
}

TEST_CASE("cylindrical rollers take a friction proportional to load", "[derived]") {
  auto roller = ball;
  roller.load_torque_factor = 0.0003;
  roller.load_torque_exponent = 0.0;
  const auto torque = cylindrical_roller_torque(roller, 20.0_mm2_s, 3000.0_rpm, 2000.0_N);
  // By hand: 0.0003 * 2000 N * 60 mm = 36 N mm.
  CHECK_THAT(torque.load, near(Torque::from_value(0.036), 1e-12));
  CHECK(torque.viscous == palmgren_torque(ball, 20.0_mm2_s, 3000.0_rpm, 2000.0_N, Force{}).viscous);
  CHECK(cylindrical_roller_torque(roller, 20.0_mm2_s, AngularVelocity{}, 2000.0_N).total() ==
        Torque{});
}

TEST_CASE("tapered rollers take the larger of axial and radial load", "[derived]") {
  auto tapered = ball;
  tapered.torque_factor = 4.0;
  tapered.load_torque_factor = 0.0004;
  tapered.load_torque_exponent = 0.0;
  const auto torque = [&](AngularVelocity omega, Force radial, Force axial) {
    return tapered_roller_torque(tapered, 1.6, 20.0_mm2_s, omega, radial, axial);
  };
  // By hand: 2 * 1.6 * 1000 N = 3200 N; 0.0004 * 3200 N * 60 mm = 76.8 N mm.
  const auto axial = torque(3000.0_rpm, 2000.0_N, 1000.0_N);
  CHECK_THAT(axial.load, near(Torque::from_value(0.0768), 1e-12));
  CHECK_THAT(torque(3000.0_rpm, 2000.0_N, 100.0_N).load, near(Torque::from_value(0.048), 1e-12));
  CHECK_THAT(
      axial.viscous,
      near(2.0 * palmgren_torque(ball, 20.0_mm2_s, 3000.0_rpm, 1.0_N, Force{}).viscous, 1e-12));
  CHECK(torque(-3000.0_rpm, -2000.0_N, -1000.0_N).total() == axial.total());
  CHECK(torque(AngularVelocity{}, 2000.0_N, 1000.0_N).total() == Torque{});
  CHECK_THROWS_AS(tapered_roller_torque(tapered, 0.0, 20.0_mm2_s, 3000.0_rpm, 2000.0_N, 1000.0_N),
                  std::invalid_argument);
}

TEST_CASE("flanges take a torque proportional to axial load", "[derived]") {
  // By hand: 0.005 * 400 N * 60 mm = 120 N mm.
  CHECK_THAT(flange_torque(0.005, 60.0_mm, 400.0_N), near(Torque::from_value(0.12), 1e-12));
  CHECK(flange_torque(0.005, 60.0_mm, -400.0_N) == flange_torque(0.005, 60.0_mm, 400.0_N));
  CHECK(flange_torque(0.005, 60.0_mm, Force{}) == Torque{});
  CHECK_THROWS_AS(flange_torque(-0.005, 60.0_mm, 400.0_N), std::invalid_argument);
  CHECK_THROWS_AS(flange_torque(0.005, 0.0_mm, 400.0_N), std::invalid_argument);
}

TEST_CASE("high speeds are flagged, undefined input refused", "[derived]") {
  CHECK_FALSE(outside_palmgren_speed(16000.0_rpm, 60.0_mm));
  const auto flag = outside_palmgren_speed(-20000.0_rpm, 60.0_mm);
  REQUIRE(flag);
  CHECK_THAT(flag->value, near(1.2e6, 1e-12));
  CHECK(flag->high == 1e6);
  CHECK_THROWS_AS(palmgren_torque(ball, KinematicViscosity{}, 1.0_rpm, Force{}, Force{}),
                  std::invalid_argument);
}

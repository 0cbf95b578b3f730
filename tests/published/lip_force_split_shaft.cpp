#include <catch2/catch.hpp>

#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

// What a split-shaft gauge reads and what a lip's force costs.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using test::near;

TEST_CASE("a split shaft reads the line force times the diameter", "[published][formula]") {
  // SAE J1901 (2002), lip force measurement, as quoted in its public summary: the reading is the
  // force that pushes the two halves together. The total radial load is pi times as much.
  const LineForce f = contact::line_force_from_split_reading(4.0_N, 40.0_mm);
  CHECK_THAT(f, near(100.0_N_m, 1e-12));
  CHECK_THAT(contact::radial_load(f, 40.0_mm), near(12.566_N, 1e-4));
}

TEST_CASE("force, torque and power of a lip", "[published][derived]") {
  // Elementary: F = F' pi d, T = mu F d/2, P = T omega. By hand, five digits.
  struct Row {
    LineForce line_force;
    double friction;
    AngularVelocity speed;
    Torque torque;
    Power power;
  };
  const auto row = GENERATE(Row{0.10_N_mm, 0.30, 6000.0_rpm, 0.075398_Nm, 47.374_W},
                            Row{0.10_N_mm, 0.30, 15000.0_rpm, 0.075398_Nm, 118.44_W},
                            Row{0.12_N_mm, 0.35, 3000.0_rpm, 0.10556_Nm, 33.16_W},
                            Row{80.0_N_m, 0.12, 15000.0_rpm, 0.024127_Nm, 37.9_W},
                            Row{30.0_N_m, 0.20, 15000.0_rpm, 0.015080_Nm, 23.7_W},
                            Row{10.0_N_m, 0.20, 15000.0_rpm, 0.0050265_Nm, 7.9_W});
  const Force load = contact::radial_load(row.line_force, 40.0_mm);
  const Torque torque = contact::friction_torque(row.friction, load, 40.0_mm);
  CHECK_THAT(torque, near(row.torque, 1e-4));
  CHECK_THAT(Power(torque * row.speed), near(row.power, 2e-3));
}

TEST_CASE("brushes take the sum of their forces", "[published][derived]") {
  // 0.5 N at 0.25 and 0.75 N at 0.20 on 40 mm, 15 000 1/min, by hand.
  const auto power = [](double friction, Force load) {
    return Power(contact::friction_torque(friction, load, 40.0_mm) * 15000.0_rpm);
  };
  CHECK_THAT(power(0.25, 0.5_N), near(3.93_W, 2e-3));
  CHECK_THAT(power(0.20, 0.75_N), near(4.71_W, 2e-3));
}

TEST_CASE("mixed friction from standstill to 15 000 1/min", "[published][derived]") {
  // Regression: 40 mm, 120 N/m, b 0.2 mm, film held at 6.317 mPa s, four digits.
  struct Row {
    AngularVelocity speed;
    double friction;
  };
  const auto row =
      GENERATE(Row{1.0_rpm, 0.4661}, Row{10.0_rpm, 0.4073}, Row{100.0_rpm, 0.3021},
               Row{300.0_rpm, 0.2659}, Row{1000.0_rpm, 0.2863}, Row{3000.0_rpm, 0.3824},
               Row{6000.0_rpm, 0.4793}, Row{15000.0_rpm, 0.6504});
  CAPTURE(in_rpm(row.speed));
  const contact::MixedFilm lip{.boundary_friction = 0.5,
                               .film_coefficient = 5.5,
                               .transition_duty = 2e-5,
                               .load_share_exponent = 0.5,
                               .contact_width = 0.2_mm};
  const double f =
      contact::friction_coefficient(lip, 6.317_mPa_s, rim_speed(row.speed, 20.0_mm), 120.0_N_m);
  CHECK(f == Approx(row.friction).margin(6e-5));
}

TEST_CASE("the friction minimum of the mixed film", "[published][derived]") {
  // Same data: 0.264 at 0.86 m/s.
  const contact::MixedFilm lip{.boundary_friction = 0.5,
                               .film_coefficient = 5.5,
                               .transition_duty = 2e-5,
                               .load_share_exponent = 0.5,
                               .contact_width = 0.2_mm};
  const auto f = [&](double u_m_s) {
    return contact::friction_coefficient(lip, 6.317_mPa_s, Speed::from_value(u_m_s), 120.0_N_m);
  };
  CHECK(f(0.86) == Approx(0.264).margin(5e-4));
  CHECK(f(0.86) < f(0.80));
  CHECK(f(0.86) < f(0.92));
}

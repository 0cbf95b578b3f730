// A. Palmgren, Ball and Roller Bearing Engineering, 3rd ed. 1959, as quoted in T. A. Harris, M. N.
// Kotzalas, Essential Concepts of Bearing Technology, 5th ed., CRC 2006, chapter on friction. The
// viscous law as quoted in three public copies; z = 0.0005 and y = 0.55 from memory.
#include <catch2/catch.hpp>

#include "ohmdrag/bearing/friction_torque.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

TEST_CASE("Palmgren: friction torque and loss of a 60 mm ball bearing", "[formula]") {
  const PalmgrenConstants bearing{.torque_factor = 2.0,
                                  .load_torque_factor = 0.0005,
                                  .load_torque_exponent = 0.55,
                                  .pitch_diameter = 60.0_mm,
                                  .static_rating = 18144.0_N};
  struct Row {
    KinematicViscosity nu;
    AngularVelocity omega;
    Force radial;
    double viscous_Nmm, load_Nmm, total_Nmm, loss_W;
  };
  const Row row =
      GENERATE(Row{20.0_mm2_s, 3000.0_rpm, 2000.0_N, 66.2091, 17.8408, 84.0499, 26.4051},
               Row{10.0_mm2_s, 6000.0_rpm, 2500.0_N, 66.2091, 25.2130, 91.4222, 57.4422},
               Row{10.0_mm2_s, 12000.0_rpm, 1000.0_N, 105.1005, 6.0928, 111.1933, 139.7296},
               Row{10.0_mm2_s, 100.0_rpm, 2000.0_N, 6.9120, 17.8408, 24.7528, 0.2592});
  const auto torque = palmgren_torque(bearing, row.nu, row.omega, row.radial, Force{});
  CHECK_THAT(torque.viscous.value() * 1e3, within(row.viscous_Nmm, 6e-5));
  CHECK_THAT(torque.load.value() * 1e3, within(row.load_Nmm, 6e-5));
  CHECK_THAT(torque.total().value() * 1e3, within(row.total_Nmm, 6e-5));
  CHECK_THAT(Power(torque.total() * row.omega).value(), within(row.loss_W, 6e-5));
}

// ISO/TR 14179-2, from memory: the same laws in N m, T0 = 1.6e-8 f0 d_m^3 for nu n < 2000, else
// 1e-10 f0 (nu n)^(2/3) d_m^3, and T1 = 1e-3 f1 P1 d_m with P1 = 2 Y F_a, not below F_r, for
// tapered rollers; their f0 = 4 and f1 = 0.0004 likewise.
TEST_CASE("tapered rollers by the form in newton metres", "[formula]") {
  const PalmgrenConstants bearing{.torque_factor = 4.0,
                                  .load_torque_factor = 0.0004,
                                  .load_torque_exponent = 0.0,
                                  .pitch_diameter = 60.0_mm,
                                  .static_rating = 18144.0_N};
  const auto torque = [&](AngularVelocity omega, Force axial) {
    return tapered_roller_torque(bearing, 1.6, 10.0_mm2_s, omega, 2000.0_N, axial);
  };
  const double cube_mm3 = 60.0 * 60.0 * 60.0;
  CHECK_THAT(torque(100.0_rpm, 1000.0_N).viscous,
             near(Torque::from_value(1.6e-8 * 4.0 * cube_mm3), 1e-12));
  CHECK_THAT(
      torque(6000.0_rpm, 1000.0_N).viscous,
      near(Torque::from_value(1e-10 * 4.0 * std::pow(60000.0, 2.0 / 3.0) * cube_mm3), 1e-12));
  CHECK_THAT(torque(6000.0_rpm, 1000.0_N).load,
             near(Torque::from_value(1e-3 * 0.0004 * (2.0 * 1.6 * 1000.0) * 60.0), 1e-12));
  CHECK_THAT(torque(6000.0_rpm, 100.0_N).load,
             near(Torque::from_value(1e-3 * 0.0004 * 2000.0 * 60.0), 1e-12));
}

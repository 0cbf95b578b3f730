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

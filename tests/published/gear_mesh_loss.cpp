// Loss of a loaded gear mesh: formulas of ISO/TR 14179-2 after Ohlendorf and Schlenk, from
// memory; every value is our arithmetic. Involute geometry as in any textbook on gears.
#include "ohmdrag/component/gear_forces.hpp"
#include "ohmdrag/component/gear_mesh.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::component;
using namespace ohmdrag::literals;
using test::near;

namespace {

constexpr double deg = std::numbers::pi / 180.0;

}  // namespace

TEST_CASE("helical pair 25/80: geometry, friction and loss", "[published][formula]") {
  const GearPair pair = unshifted_pair(25, 80, 2.0_mm, 20.0 * deg, 20.0 * deg, 30.0_mm);
  const MeshGeometry g = mesh_geometry(pair);
  CHECK(g.transverse_pressure_angle / deg == Approx(21.172832).margin(5e-7));
  CHECK(g.base_helix_angle / deg == Approx(18.747237).margin(5e-7));
  CHECK(g.pinion_tip_contact_ratio == Approx(0.742581).margin(5e-7));
  CHECK(g.wheel_tip_contact_ratio == Approx(0.828877).margin(5e-7));
  CHECK(g.contact_ratio() == Approx(1.571458).margin(1e-6));
  CHECK(g.loss_factor == Approx(0.116175).margin(5e-7));
  CHECK_THAT(g.reduced_radius, near(7.73137_mm, 1e-6));
  // Tooth force over face width, 2 T/(d_b1 b).
  CHECK(2e-3 * 150.0 / (g.pinion_base_diameter * pair.face_width).value() ==
        Approx(201.544).margin(5e-4));

  const MeshLubrication oil{.viscosity = 8.5_mPa_s, .roughness = 0.5_um, .oil_factor = 1.0};
  const MeshLoss loss = mesh_loss(pair, oil, 150.0_Nm, 6000.0_rpm);
  CHECK(loss.friction == Approx(0.042302).margin(5e-7));
  CHECK_THAT(loss.power, near(463.17_W, 1.2e-5));
  CHECK_THAT(loss.power / Power::from_value(94247.8), near(0.00491, 1.1e-3));
  CHECK(loss.flags.empty());
}

TEST_CASE("spur pair 20/40: loss factor", "[published][formula]") {
  const auto g = mesh_geometry(unshifted_pair(20, 40, 1.0_mm, 20.0 * deg, 0.0, 10.0_mm));
  CHECK(g.pinion_tip_contact_ratio == Approx(0.778420).margin(5e-7));
  CHECK(g.wheel_tip_contact_ratio == Approx(0.856770).margin(5e-7));
  CHECK(g.loss_factor == Approx(0.166065).margin(1e-6));
}

// Statics of an inclined tooth, as in any textbook on gears; the figures are our own.
TEST_CASE("tooth forces of a helical pinion at 150 N m", "[published][derived]") {
  const Length pitch = 25.0 * 2.0_mm / std::cos(20.0 * deg);
  const GearForces forces = gear_forces(150.0_Nm, pitch, 20.0 * deg, 20.0 * deg);
  CHECK(forces.tangential.value() == Approx(5638.0).margin(0.5));
  CHECK(forces.radial.value() == Approx(2184.0).margin(0.5));
  CHECK(forces.axial.value() == Approx(2052.0).margin(0.5));
}

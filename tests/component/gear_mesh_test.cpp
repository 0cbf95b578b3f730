#include "ohmdrag/component/gear_mesh.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::component;
using test::near;

namespace {

constexpr double deg = std::numbers::pi / 180.0;

GearPair pair(double helix_deg = 20.0) {
  return unshifted_pair(25, 80, 2.0_mm, 20.0 * deg, helix_deg * deg, 30.0_mm);
}
constexpr MeshLubrication oil{.viscosity = 8.5_mPa_s, .roughness = 0.5_um, .oil_factor = 1.0};

MeshLoss loss(double torque_Nm, double rpm, const MeshLubrication& lubrication = oil) {
  return mesh_loss(pair(), lubrication, Torque::from_value(torque_Nm), from_rpm(rpm));
}

}  // namespace

TEST_CASE("a mesh without torque or speed loses nothing", "[derived]") {
  CHECK(loss(150.0, 0.0).power == 0.0_W);
  CHECK(loss(150.0, 0.0).friction == 0.0);
  CHECK(loss(0.0, 6000.0).power == 0.0_W);
  CHECK(loss(0.0, 6000.0).flags.empty());
  CHECK(loss(150.0, 1e-6).power < 1e-5_W);
}

TEST_CASE("drive, coast and reverse lose the same", "[derived]") {
  const Power forth = loss(150.0, 6000.0).power;
  CHECK(loss(-150.0, 6000.0).power == forth);
  CHECK(loss(150.0, -6000.0).power == forth);
  CHECK(loss(-150.0, -6000.0).power == forth);
  CHECK(forth > 0.0_W);
}

TEST_CASE("mesh loss scales by its exponents", "[derived]") {
  const Power base = loss(150.0, 6000.0).power;
  CHECK_THAT(loss(300.0, 6000.0).power, near(std::pow(2.0, 1.2) * base, 1e-12));
  CHECK_THAT(loss(150.0, 3000.0).power, near(std::pow(0.5, 0.8) * base, 1e-12));
  MeshLubrication other = oil;
  other.viscosity = 17.0_mPa_s;
  CHECK_THAT(loss(150.0, 6000.0, other).power, near(std::pow(2.0, -0.05) * base, 1e-12));
  other = oil;
  other.roughness = 1.0_um;
  CHECK_THAT(loss(150.0, 6000.0, other).power, near(std::pow(2.0, 0.25) * base, 1e-12));
  other = oil;
  other.oil_factor = 0.8;
  CHECK_THAT(loss(150.0, 6000.0, other).power, near(0.8 * base, 1e-12));
}

TEST_CASE("below its least tooth force the mesh has constant friction, flagged", "[derived]") {
  CHECK(loss(10.0, 6000.0).friction == loss(20.0, 6000.0).friction);
  const auto light = loss(75.0, 6000.0);
  REQUIRE(light.flags.size() == 1);
  CHECK(light.flags[0].low == 150.0);
  CHECK(light.flags[0].value == Approx(100.772).epsilon(1e-5));
  CHECK(loss(150.0, 6000.0).flags.empty());
}

TEST_CASE("the hand of the helix does not matter and more helix shortens the contact",
          "[derived]") {
  CHECK(mesh_geometry(pair(-20.0)).loss_factor == mesh_geometry(pair(20.0)).loss_factor);
  CHECK(mesh_geometry(pair(30.0)).contact_ratio() < mesh_geometry(pair(0.0)).contact_ratio());
  CHECK(mesh_geometry(pair(0.0)).base_helix_angle == 0.0);
}

TEST_CASE("without profile shift gears work at their own pressure angle", "[derived]") {
  const auto g = mesh_geometry(pair());
  CHECK(g.working_transverse_pressure_angle == Approx(g.transverse_pressure_angle).epsilon(1e-12));
  // rho of the pitch point without shift: d1 sin(alpha_t) u / [2 (u + 1) cos(beta_b)].
  const double u = 80.0 / 25.0;
  const Length d1 = 25.0 * 2.0_mm / std::cos(20.0 * deg);
  CHECK_THAT(g.reduced_radius, near(Length(0.5 * d1 * std::sin(g.transverse_pressure_angle) * u /
                                           ((u + 1.0) * std::cos(g.base_helix_angle))),
                                    1e-12));
}

TEST_CASE("gears pulled apart work at a larger angle and a shorter contact", "[derived]") {
  GearPair apart = pair();
  apart.centre_distance = apart.centre_distance + 0.5_mm;
  CHECK(mesh_geometry(apart).working_transverse_pressure_angle >
        mesh_geometry(pair()).working_transverse_pressure_angle);
  CHECK(mesh_geometry(apart).contact_ratio() < mesh_geometry(pair()).contact_ratio());
}

TEST_CASE("fast gears and long contacts are flagged", "[derived]") {
  const auto fast = loss(150.0, 20000.0);
  REQUIRE(fast.flags.size() == 1);
  CHECK(fast.flags[0].high == 50.0);
  GearPair deep = pair();
  deep.pinion_tip_diameter = deep.pinion_tip_diameter + 2.0_mm;
  deep.wheel_tip_diameter = deep.wheel_tip_diameter + 2.0_mm;
  const auto long_contact = mesh_loss(deep, oil, 150.0_Nm, 6000.0_rpm);
  REQUIRE(long_contact.flags.size() == 1);
  CHECK(long_contact.flags[0].high == 2.0);
}

TEST_CASE("undefined gears are refused", "[derived]") {
  const auto geometry = [](auto change) {
    GearPair bad = pair();
    change(bad);
    return mesh_geometry(bad);
  };
  CHECK_THROWS_AS(geometry([](GearPair& p) { p.pinion_teeth = 0; }), std::invalid_argument);
  CHECK_THROWS_AS(geometry([](GearPair& p) { p.wheel_teeth = 24; }), std::invalid_argument);
  CHECK_THROWS_AS(geometry([](GearPair& p) { p.normal_module = 0.0_mm; }), std::invalid_argument);
  CHECK_THROWS_AS(geometry([](GearPair& p) { p.helix_angle = std::nan(""); }),
                  std::invalid_argument);
  CHECK_THROWS_AS(geometry([](GearPair& p) { p.centre_distance = 90.0_mm; }),
                  std::invalid_argument);
  CHECK_THROWS_AS(geometry([](GearPair& p) { p.wheel_tip_diameter = 100.0_mm; }),
                  std::invalid_argument);
  MeshLubrication dry = oil;
  dry.viscosity = 0.0_mPa_s;
  CHECK_THROWS_AS(loss(150.0, 6000.0, dry), std::invalid_argument);
  CHECK_THROWS_AS(loss(std::nan(""), 6000.0), std::invalid_argument);
}

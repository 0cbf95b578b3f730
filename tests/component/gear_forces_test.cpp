#include "ohmdrag/component/gear_forces.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::component;
using test::near;

namespace {

constexpr double deg = std::numbers::pi / 180.0;
const Length pitch = 53.2_mm;

}  // namespace

TEST_CASE("coast turns tangential and axial force, never the radial one") {
  const GearForces drive = gear_forces(150.0_Nm, pitch, 20 * deg, 20 * deg);
  const GearForces coast = gear_forces(-150.0_Nm, pitch, 20 * deg, 20 * deg);
  CHECK(coast.tangential == -drive.tangential);
  CHECK(coast.axial == -drive.axial);
  CHECK(coast.radial == drive.radial);
  CHECK(drive.radial > Force{});
  CHECK(gear_forces(150.0_Nm, pitch, 20 * deg, 0.0).axial == Force{});
  CHECK(gear_forces({}, pitch, 20 * deg, 20 * deg).radial == Force{});
}

TEST_CASE("the bearings balance forces and moments") {
  const GearForces f = gear_forces(150.0_Nm, pitch, 20 * deg, 20 * deg);
  // By hand, gear at a third of 120 mm: second tangential F_t/3, radial (F_r 40 + F_a 26.6)/120.
  const GearSeat seat{.span = 120.0_mm, .position = 40.0_mm, .pitch_diameter = pitch};
  const BearingReactions at = bearing_reactions(f, seat);
  const double second_t = f.tangential.value() / 3.0;
  const double second_r = (f.radial.value() * 40.0 + f.axial.value() * 26.6) / 120.0;
  CHECK_THAT(at.second.radial, near(Force::from_value(std::hypot(second_t, second_r)), 1e-12));
  CHECK_THAT(at.first.radial, near(Force::from_value(std::hypot(f.tangential.value() - second_t,
                                                                f.radial.value() - second_r)),
                                   1e-12));
  CHECK(at.first.axial == f.axial);
  CHECK(at.second.axial == Force{});
}

TEST_CASE("drive and coast load the bearings of a helical gear differently") {
  const GearSeat seat{.span = 120.0_mm, .position = 40.0_mm, .pitch_diameter = pitch};
  const auto drive = bearing_reactions(gear_forces(150.0_Nm, pitch, 20 * deg, 20 * deg), seat);
  const auto coast = bearing_reactions(gear_forces(-150.0_Nm, pitch, 20 * deg, 20 * deg), seat);
  CHECK(drive.second.radial > coast.second.radial);
}

TEST_CASE("a spur gear at a bearing loads it alone") {
  const GearSeat seat{.span = 120.0_mm, .position = 120.0_mm, .pitch_diameter = pitch};
  const auto at = bearing_reactions(gear_forces(150.0_Nm, pitch, 20 * deg, 0.0), seat);
  CHECK(at.first.radial.value() < 1e-9);
}

TEST_CASE("gear forces refuse what is no gear") {
  CHECK_THROWS_AS(gear_forces(1.0_Nm, {}, 20 * deg, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(gear_forces(1.0_Nm, pitch, 50 * deg, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(bearing_reactions({}, {}), std::invalid_argument);
}

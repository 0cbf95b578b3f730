#include <array>
#include <stdexcept>

#include "energy/sample_unit.hpp"
#include "ohmdrag/energy/march.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

constexpr double deg = std::numbers::pi / 180.0;

struct Point {
  std::array<AngularVelocity, 1> speed;
  std::array<Torque, 1> torque{};
  std::array<Temperature, 1> dry{from_celsius(60.0)};
  Temperature oil = from_celsius(70.0);

  energy::Running running() const { return {speed, torque, dry, oil}; }
};

energy::DriveUnit only(decltype(energy::Part::form) form) {
  return {{sample_shaft({})}, {{"part", std::move(form)}}};
}

energy::PartLoss loss(const energy::DriveUnit& unit, const Point& at) {
  return energy::losses_at(unit, at.running())[0];
}

Power heat_into_sump(const energy::DriveUnit& unit, const Point& at) {
  energy::LossModel model(unit);
  std::vector<energy::PartLoss> losses(1);
  return model.at(at.running(), losses);
}

energy::DriveUnit gears() {
  const auto pair = component::unshifted_pair(25, 80, 2.0_mm, 20.0 * deg, 20.0 * deg, 30.0_mm);
  return only(energy::GearPart{0, pair, component::mesh_geometry(pair), 0.5_um, 1.0});
}

/// Two straight lines, so that a reader checks the figures in the head. Invented.
energy::DriveUnit measured(component::BeyondTable beyond = component::BeyondTable::hold,
                           double factor = 1.0) {
  const std::array<component::MeasuredTorqueRow, 4> rows{{{1000.0_rpm, 0.20_Nm, 40.0_degC},
                                                          {2000.0_rpm, 0.24_Nm, 40.0_degC},
                                                          {1000.0_rpm, 0.10_Nm, 80.0_degC},
                                                          {2000.0_rpm, 0.12_Nm, 80.0_degC}}};
  return only(energy::MeasuredPart{0, component::MeasuredTorque(rows, beyond), factor});
}

energy::DriveUnit rollers(const energy::Rolling& rolling, double torque_factor,
                          double load_torque_factor, Force axial) {
  return only(energy::BearingPart{0,
                                  rolling,
                                  {.torque_factor = torque_factor,
                                   .load_torque_factor = load_torque_factor,
                                   .load_torque_exponent = 0.0,
                                   .pitch_diameter = 60.0_mm,
                                   .static_rating = 50000.0_N},
                                  {{Torque{}}, {2000.0_N}, {axial}}});
}

}  // namespace

// Hand calculation outside this program (Python): oil 25/5.3 mm2/s and 835 kg/m3 at 70 degC has
// 10.1121 mm2/s, 800.08 kg/m3, 8.0905 mPa s; H_V 0.116175, mu 0.042302 (8.5/8.0905)^0.05.
TEST_CASE("a gear mesh takes torque and speed of its shaft and the oil's viscosity", "[energy]") {
  const Point at{.speed = {6000.0_rpm}, .torque = {150.0_Nm}};
  CHECK_THAT(loss(gears(), at).power, near(464.317_W, 1e-4));
  CHECK_THAT(loss(gears(), at).torque * at.speed[0], near(loss(gears(), at).power, 1e-12));
  CHECK(!loss(gears(), at).contact);
  const Point cold{.speed = {6000.0_rpm}, .torque = {150.0_Nm}, .oil = from_celsius(20.0)};
  CHECK(loss(gears(), cold).power < loss(gears(), at).power);  // eta^-0.05
}

TEST_CASE("a mesh without torque or at rest loses nothing, reversed and in coast the same",
          "[energy]") {
  CHECK(loss(gears(), {.speed = {6000.0_rpm}}).power == Power{});
  CHECK(loss(gears(), {.speed = {0.0_rpm}, .torque = {150.0_Nm}}).power == Power{});
  CHECK(loss(gears(), {.speed = {0.0_rpm}, .torque = {150.0_Nm}}).torque == Torque{});
  const Power ahead = loss(gears(), {.speed = {6000.0_rpm}, .torque = {150.0_Nm}}).power;
  CHECK(loss(gears(), {.speed = {-6000.0_rpm}, .torque = {150.0_Nm}}).power == ahead);
  CHECK(loss(gears(), {.speed = {6000.0_rpm}, .torque = {-150.0_Nm}}).power == ahead);
}

TEST_CASE("all heat of gears and measured drag goes to the sump", "[energy]") {
  const Point at{.speed = {1500.0_rpm}, .torque = {80.0_Nm}};
  for (const auto& unit : {gears(), measured()}) {
    CHECK(loss(unit, at).power > Power{});
    CHECK_THAT(heat_into_sump(unit, at), near(loss(unit, at).power, 1e-12));
    CHECK_THAT(energy::net_power(unit, at.running(), 0), near(loss(unit, at).power, 1e-12));
  }
}

// 1500 1/min lies half-way: 0.22 N m at 40 degC, 0.11 N m at 80 degC; 70 degC is three quarters of
// the way between: 0.1375 N m, times 157.0796 rad/s.
TEST_CASE("measured drag goes by speed and oil temperature", "[energy]") {
  const Point at{.speed = {1500.0_rpm}};
  CHECK_THAT(loss(measured(), at).torque, near(0.1375_Nm, 1e-12));
  CHECK_THAT(loss(measured(), at).power, near(21.59845_W, 1e-6));
  const auto scaled = loss(measured(component::BeyondTable::hold, 1.05), at);
  CHECK_THAT(scaled.torque, near(1.05 * 0.1375_Nm, 1e-12));
  CHECK_THAT(scaled.power, near(1.05 * 21.59845_W, 1e-6));
  const Point back{.speed = {-1500.0_rpm}};
  CHECK(loss(measured(), back).power == loss(measured(), at).power);
  CHECK(loss(measured(), {.speed = {0.0_rpm}}).power == Power{});
}

TEST_CASE("beyond a measured table its end holds, or the point is refused", "[energy]") {
  const Point fast{.speed = {4000.0_rpm}};
  CHECK_THAT(loss(measured(), fast).torque, near(0.15_Nm, 1e-12));
  CHECK_THROWS_AS(loss(measured(component::BeyondTable::refuse), fast), std::domain_error);
}

// f0 4, f1 0.0004, d_m 60 mm, nu n 60000 mm2/s 1/min scaled from 10 to 10.1121 mm2/s; in Python:
// M0 133.4057 N mm, M1 = 0.0004 max(2 1.6 1000, 2000) 60 = 76.8 N mm.
TEST_CASE("tapered rollers carry their axial load in friction", "[energy]") {
  const Point at{.speed = {6000.0_rpm}};
  const auto tapered = [&](Force axial) {
    return loss(rollers(energy::TaperedRolling{1.6}, 4.0, 0.0004, axial), at).torque;
  };
  CHECK_THAT(tapered(1000.0_N), near(0.2102057_Nm, 1e-6));
  CHECK_THAT(tapered(1000.0_N) - tapered(100.0_N), near(0.0288_Nm, 1e-9));
  CHECK(loss(rollers(energy::TaperedRolling{1.6}, 4.0, 0.0004, 1000.0_N), {.speed = {0.0_rpm}})
            .power == Power{});
}

TEST_CASE("flanges of cylindrical rollers add f2 F_a d_m while the shaft turns", "[energy]") {
  const Point at{.speed = {6000.0_rpm}};
  const auto cylindrical = [&](std::optional<double> flange_factor, const Point& point) {
    return loss(rollers(energy::CylindricalRolling{flange_factor}, 2.5, 0.0003, 500.0_N), point);
  };
  CHECK_THAT(cylindrical(0.006, at).torque - cylindrical(std::nullopt, at).torque,
             near(0.18_Nm, 1e-9));
  CHECK(cylindrical(0.006, {.speed = {0.0_rpm}}).torque == Torque{});
}

TEST_CASE("a duty adds up what gears and measured drag take", "[energy]") {
  const Point at{.speed = {1500.0_rpm}, .torque = {80.0_Nm}};
  const energy::Stretch hour{.dt = Time::from_value(3600.0),
                             .distance = {},
                             .speed = {at.speed[0]},
                             .torque = {at.torque[0]}};
  const energy::SumpDuty held{{}, {}, at.oil, true};
  for (const auto& unit : {gears(), measured()}) {
    const auto ledger = energy::march(unit, std::array{hour}, 1, held, at.dry);
    const Energy expected = loss(unit, at).power * hour.dt;
    CHECK_THAT(ledger.whole().of_part(0), near(expected, 1e-12));
    CHECK_THAT(ledger.into_sump, near(expected, 1e-12));
  }
}

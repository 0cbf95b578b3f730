#include <array>
#include <stdexcept>
#include <string>

#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::Sections;

namespace {

study::ExtraDrag sample_gear() {
  study::GearElement mesh;
  mesh.pinion_teeth = 25;
  mesh.wheel_teeth = 80;
  mesh.normal_module = known(2.0_mm);
  mesh.pressure_angle_deg = known(20.0);
  mesh.helix_angle_deg = known(20.0);
  mesh.face_width = known(30.0_mm);
  mesh.roughness = within_share(0.5_um, 0.4, "gear.first-stage.roughness");
  mesh.oil_factor = known(1.0);
  study::ExtraDrag gear;
  gear.id = "first-stage";
  gear.shaft = "rotor";
  gear.element.id = gear.element.title = gear.id;
  gear.element.form = mesh;
  return gear;
}

study::ExtraDrag sample_rig(component::BeyondTable beyond = component::BeyondTable::hold) {
  const std::array<component::MeasuredTorqueRow, 4> rows{{{1000.0_rpm, 0.20_Nm, 40.0_degC},
                                                          {7000.0_rpm, 0.44_Nm, 40.0_degC},
                                                          {1000.0_rpm, 0.10_Nm, 80.0_degC},
                                                          {7000.0_rpm, 0.22_Nm, 80.0_degC}}};
  study::ExtraDrag rig;
  rig.id = "rig";
  rig.shaft = "rotor";
  rig.element.id = rig.element.title = rig.id;
  rig.element.remark = "Torque as measured: invented";
  study::MeasuredElement measured{component::MeasuredTorque(rows, beyond), {}};
  measured.factor = within_share(1.0, 0.05, "variant.plain.extra.rig.spread");
  measured.factor.basis = Basis::measured;
  rig.element.form = measured;
  return rig;
}

study::Case with(const study::ExtraDrag& extra) {
  study::Case c = sample_case();
  for (study::Variant& variant : c.variants) variant.extras = {extra};
  return c;
}

study::BudgetRow row(const study::Findings& findings, std::size_t variant,
                     const std::string& component) {
  for (const study::BudgetRow& r : findings.variants[variant].budget)
    if (r.component == component) return r;
  throw std::out_of_range(component);
}

bool flagged(const std::vector<study::Flag>& flags, const std::string& code) {
  for (const study::Flag& flag : flags)
    if (flag.code == code) return true;
  return false;
}

double width(const Interval& i) { return i.high - i.low; }

}  // namespace

// Outside this program (Python): H_V 0.116175, 8.0905 mPa s at 70 degC, mu 0.0424061, 94 247.8 W.
TEST_CASE("a gear mesh is a row of the budget, marked as context", "[study]") {
  study::Case c = with(sample_gear());
  c.points[0].torque = known(150.0_Nm);
  c.samples = 1;
  const auto gear = row(study::evaluate(c, {.budget = true}), 0, "first-stage");
  CHECK(gear.kind == "gear-mesh");
  CHECK_THAT(gear.own_W.mid, near(464.317, 1e-4));
  CHECK_THAT(gear.net_W.mid, near(gear.own_W.mid, 1e-12));
  CHECK_THAT(gear.torque_Nm.mid, near(464.317 / 628.3185, 1e-4));
  CHECK_FALSE(gear.contact_temperature_degC);
  CHECK(gear.basis == Basis::assumed);
  CHECK(flagged(gear.flags, "context-only"));
  for (const study::Flag& flag : gear.flags)
    if (flag.code == "context-only") CHECK(flag.text == "Context only.");
}

TEST_CASE("without shaft torque a mesh loses nothing, and the budget says why", "[study]") {
  const auto gear = row(study::evaluate(with(sample_gear()), {.budget = true}), 0, "first-stage");
  CHECK(gear.own_W.high == 0.0);
  CHECK(flagged(gear.flags, "no-load"));
}

TEST_CASE("what all variants' gears lose cancels between them", "[study]") {
  study::Case c = with(sample_gear());
  c.points[0].torque = known(150.0_Nm);
  c.duties[0].torque = known(150.0_Nm);
  const auto with_gear = study::evaluate(c, Sections::all());
  CHECK(width(row(with_gear, 0, "first-stage").own_W) > 50.0);
  for (study::Variant& variant : c.variants) variant.extras.clear();
  const auto without = study::evaluate(c, Sections::all());
  for (std::size_t i = 0; i < without.trade->exchange.size(); ++i) {
    const auto& there = with_gear.trade->exchange[i].point_net_W;
    const auto& here = without.trade->exchange[i].point_net_W;
    CHECK(there.mid == Approx(here.mid).margin(1e-9));
    CHECK(width(there) == Approx(width(here)).margin(1e-9));
  }
}

TEST_CASE("gears and measured drag are rows of the energy account", "[study]") {
  for (const study::ExtraDrag& extra : {sample_gear(), sample_rig()}) {
    study::Case c = with(extra);
    c.points[0].torque = known(150.0_Nm);
    c.duties[0].torque = known(150.0_Nm);
    const auto findings = study::evaluate(c, Sections::all());
    const auto& rows = findings.variants[0].energy;
    const auto found = std::find_if(rows.begin(), rows.end(), [&](const study::EnergyRow& r) {
      return r.component == extra.id;
    });
    REQUIRE(found != rows.end());
    const double own_W = row(findings, 0, extra.id).own_W.mid;
    CHECK_THAT(found->mean_W.mid, near(own_W, 1e-9));
    CHECK_THAT(found->kWh_per_year->mid, near(own_W * 4.0, 1e-9));  // 4000 h
  }
}

// 6000 1/min: 0.40 and 0.20 N m; 70 degC is three quarters of the way: 0.25 N m, 157.0796 W.
TEST_CASE("measured drag is a row of the budget with the spread of the measurement", "[study]") {
  const auto findings = study::evaluate(with(sample_rig()), Sections::all());
  const auto rig = row(findings, 0, "rig");
  CHECK(rig.kind == "measured");
  CHECK(rig.basis == Basis::measured);
  CHECK_THAT(rig.own_W.mid, near(157.0796, 1e-3));
  CHECK_THAT(rig.own_W.high / rig.own_W.mid, near(1.05, 5e-3));
  CHECK(flagged(rig.flags, "measured-table"));
  CHECK_FALSE(flagged(rig.flags, "range-speed--1-min"));
  const auto& assumptions = findings.assumptions;
  CHECK(std::any_of(assumptions.begin(), assumptions.end(), [](const study::Assumption& number) {
    return number.name == "variant.plain.extra.rig.spread" && number.basis == Basis::measured;
  }));
}

TEST_CASE("a point beyond the measurement is held and flagged, or refused", "[study]") {
  study::Case c = with(sample_rig());
  c.points[0].shaft_speed = known(9000.0_rpm);
  const auto held = row(study::evaluate(c, {.budget = true}), 0, "rig");
  CHECK_THAT(held.torque_Nm.mid, near(0.275, 1e-3));
  CHECK(flagged(held.flags, "range-speed--1-min"));
  c.points[0].shaft_speed = known(6000.0_rpm);
  c.points[0].oil_temperature = known(100.0_degC);
  CHECK(flagged(row(study::evaluate(c, {.budget = true}), 0, "rig").flags,
                "range-temperature--degc"));
  c = with(sample_rig(component::BeyondTable::refuse));
  CHECK_NOTHROW(study::evaluate(c, {.budget = true}));
  c.points[0].shaft_speed = known(9000.0_rpm);
  CHECK_THROWS_AS(study::evaluate(c, {.budget = true}), std::domain_error);
}

TEST_CASE("one shaft and one measured drag are a case", "[study]") {
  study::Case c = with(sample_rig());
  c.inverter.reset();
  c.coupling.reset();
  c.bearings.clear();
  c.duties.clear();
  c.variants.resize(1);
  c.variants[0].seal.reset();
  const auto findings = study::evaluate(c, Sections::all());
  REQUIRE(findings.variants[0].budget.size() == 1);
  CHECK(findings.variants[0].budget[0].own_W.mid > 0.0);
}

// P = 0.4 2000 + 1.6 1000 = 2400 N; (60/2.4)^(10/3) million revolutions: 126 910.5 h in Python.
// Friction: f0 4, f1 0.0004: 0.2102057 N m at 10.1121 mm2/s, as in the energy room's test.
TEST_CASE("a tapered roller bearing has friction and rating life of its own", "[study]") {
  study::Case c = sample_case();
  study::BearingType& type = c.bearings[0].type;
  type.family = study::BearingType::Family::tapered_roller;
  type.dynamic_rating = known(60000.0_N);
  type.static_rating = known(70000.0_N);
  type.torque_factor = known(4.0);
  type.load_torque_factor = known(0.0004);
  type.axial_factor = known(1.6);
  c.bearings[0].radial = {known(2000.0_N)};
  c.bearings[0].axial = {known(1000.0_N)};
  c.samples = 1;
  const auto findings = study::evaluate(c, Sections::all());
  CHECK_THAT(findings.variants[0].life[0].mechanical_basic_h, near(126910.49, 1e-6));
  const auto budget = row(findings, 0, "drive-end");
  CHECK_THAT(budget.torque_Nm.mid, near(0.2102057, 1e-5));
  CHECK(flagged(budget.flags, "cone-reaction"));
  CHECK_FALSE(flagged(budget.flags, "axial-load-unused"));
}

TEST_CASE("cylindrical rollers under axial load say what they leave out", "[study]") {
  study::Case c = sample_case();
  c.bearings[0].type.family = study::BearingType::Family::cylindrical_roller;
  c.bearings[0].type.load_torque_factor = known(0.0003);
  const auto plain = study::evaluate(c, {.budget = true});
  CHECK(flagged(row(plain, 0, "drive-end").flags, "axial-load-unused"));
  c.bearings[0].type.flange_factor = known(0.006);
  const auto rubbing = study::evaluate(c, {.budget = true});
  CHECK_FALSE(flagged(row(rubbing, 0, "drive-end").flags, "axial-load-unused"));
  // f2 F_a d_m = 0.006 150 N 60 mm.
  CHECK_THAT(row(rubbing, 0, "drive-end").torque_Nm.mid - row(plain, 0, "drive-end").torque_Nm.mid,
             near(0.054, 1e-6));
}

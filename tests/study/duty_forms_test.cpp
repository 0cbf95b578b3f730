#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "ohmdrag/duty/trace.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "study/car_case.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::Sections;

namespace {

constexpr Sections energy{.budget = true, .energy = true};

study::LoadStep step(const char* id, Time time, AngularVelocity speed,
                     std::optional<Temperature> oil = {}) {
  study::LoadStep result{id, known(time), known(speed), {}, {}};
  if (oil) result.oil_temperature = known(*oil);
  return result;
}

study::Duty machine_duty(const char* id, std::vector<study::LoadStep> steps = {}) {
  study::Duty duty;
  duty.id = duty.family = id;
  duty.shaft = "rotor";
  duty.hours_per_year = known(4000.0_h);
  duty.load_steps = std::move(steps);
  return duty;
}

study::Duty steady_duty(const char* id, AngularVelocity speed, Temperature oil) {
  study::Duty duty = machine_duty(id);
  duty.shaft_speed = known(speed);
  duty.oil_temperature = known(oil);
  return duty;
}

study::Duty driven_duty(const char* id, std::vector<duty::Cycle> cycles, Temperature start) {
  study::Duty duty;
  duty.id = duty.family = id;
  duty.cycles = std::move(cycles);
  duty.start_temperature = known(start);
  return duty;
}

const study::EnergyRow& row(const study::Findings& findings, const std::string& duty,
                            const std::string& phase, const std::string& component = "seal",
                            std::size_t v = 0) {
  for (const study::EnergyRow& r : findings.variants[v].energy)
    if (r.duty == duty && r.phase == phase && r.component == component) return r;
  throw std::out_of_range(duty + "/" + phase + "/" + component);
}

}  // namespace

TEST_CASE("a profile costs what its steps cost alone", "[derived]") {
  study::Case c = one_lip();
  c.duties = {steady_duty("slow", 1500.0_rpm, 60.0_degC),
              steady_duty("fast", 3000.0_rpm, 70.0_degC),
              machine_duty("profile", {step("slow", 600.0_s, 1500.0_rpm, 60.0_degC),
                                       step("fast", 200.0_s, 3000.0_rpm, 70.0_degC)}),
              machine_duty("histogram", {step("b", 900.0_s, 3000.0_rpm, 70.0_degC),
                                         step("a", 2700.0_s, 1500.0_rpm, 60.0_degC)})};
  c.prices = study::Prices{.currency = "EUR",
                           .energy_per_kWh = 0.2,
                           .bearing_event = {},
                           .element = {},
                           .charging_efficiency = 0.9};
  const auto findings = study::evaluate(c, energy);
  const double slow_W = row(findings, "slow", "whole").mean_W.mid;
  const double fast_W = row(findings, "fast", "whole").mean_W.mid;
  CHECK(fast_W > slow_W);
  CHECK(row(findings, "profile", "slow").mean_W.mid == Approx(slow_W).epsilon(1e-9));
  CHECK(row(findings, "profile", "fast").mean_W.mid == Approx(fast_W).epsilon(1e-9));
  const double mean_W = 0.75 * slow_W + 0.25 * fast_W;
  CHECK(row(findings, "profile", "whole").mean_W.mid == Approx(mean_W).epsilon(1e-9));
  // The same shares in any order.
  CHECK(row(findings, "histogram", "whole").mean_W.mid == Approx(mean_W).epsilon(1e-9));
  // A step has its part of the year; the parts add up.
  CHECK(row(findings, "profile", "slow").kWh_per_year->mid ==
        Approx(4.0 * 0.75 * slow_W).epsilon(1e-9));
  CHECK(row(findings, "profile", "whole").kWh_per_year->mid ==
        Approx(row(findings, "profile", "slow").kWh_per_year->mid +
               row(findings, "profile", "fast").kWh_per_year->mid));
  CHECK(row(findings, "profile", "whole").plug_cost_per_year->mid ==
        Approx(4.0 * mean_W * 0.2 / 0.9).epsilon(1e-9));
  CHECK(row(findings, "profile", "whole").currency == "EUR");
  CHECK(row(findings, "histogram", "whole").kWh_per_year->mid ==
        Approx(4.0 * mean_W).epsilon(1e-9));
}

TEST_CASE("a profile of one step that warms up is constant running", "[derived]") {
  study::Case c = one_lip();
  study::Duty plain = steady_duty("plain", 3000.0_rpm, 60.0_degC);
  plain.oil_temperature.reset();
  plain.start_temperature = known(20.0_degC);
  // Eight hours in four pieces of two.
  study::Duty profile = machine_duty("profile", {step("only", 2.0_h, 3000.0_rpm)});
  profile.start_temperature = known(20.0_degC);
  profile.profile_repeats = 4;
  c.duties = {plain, profile};
  const auto findings = study::evaluate(c, energy);
  CHECK(row(findings, "profile", "whole").mean_W.mid ==
        Approx(row(findings, "plain", "whole").mean_W.mid).epsilon(1e-9));
  CHECK(row(findings, "profile", "whole", "total").end_oil_temperature_degC->mid ==
        Approx(row(findings, "plain", "whole", "total").end_oil_temperature_degC->mid));
}

TEST_CASE("bearings tire by the steps of a profile", "[derived]") {
  study::Case c = one_lip();
  c.duties = {machine_duty("profile", {step("a", 600.0_s, 1500.0_rpm, 60.0_degC),
                                       step("b", 600.0_s, 4500.0_rpm, 60.0_degC)})};
  const auto stepped = study::evaluate(c, {.life = true}).variants[0].life[0].mechanical_basic_h;
  c.duties = {steady_duty("mean", 3000.0_rpm, 60.0_degC)};
  // Equal load: life counts turns, so the mean speed gives the same hours.
  CHECK(stepped == Approx(study::evaluate(c, {.life = true}).variants[0].life[0].mechanical_basic_h)
                       .epsilon(1e-9));
}

TEST_CASE("a soak between cycles keeps distance and names and costs warmth", "[derived]") {
  study::Case c = car();
  const auto udds = table("UDDS.csv");
  const auto with_soak = [&](const char* id, std::optional<Time> soak) {
    study::Duty duty = driven_duty(id, {udds, udds}, 23.0_degC);
    if (soak) duty.soaks.push_back({1, known(*soak)});
    return duty;
  };
  c.duties = {with_soak("none", {}), with_soak("short", 600.0_s), with_soak("days", 1e6_s),
              driven_duty("once", {udds}, 23.0_degC)};
  const auto findings = study::evaluate(c, energy);
  const std::string first = "UDDS.csv/whole", second = "UDDS.csv#2/whole";
  const auto second_Wh = [&](const char* id) {
    return row(findings, id, second).shaft_Wh_per_km->mid;
  };
  const double once = row(findings, "once", "whole").shaft_Wh_per_km->mid;
  CHECK(row(findings, "short", first).shaft_Wh_per_km->mid == Approx(once).epsilon(1e-9));
  CHECK(second_Wh("none") < second_Wh("short"));
  CHECK(second_Wh("short") < second_Wh("days"));
  CHECK(second_Wh("days") == Approx(once).epsilon(1e-6));
  for (const char* id : {"none", "short", "days"})
    CHECK(*row(findings, id, "whole").distance_km ==
          Approx(2.0 * *row(findings, "once", "whole").distance_km));
  // A soak is no running time: mean watts are those of driving.
  CHECK(row(findings, "days", "whole").mean_W.mid ==
        Approx(row(findings, "once", "whole").mean_W.mid).epsilon(1e-6));
}

TEST_CASE("each start temperature has its rows, the colder the dearer", "[derived]") {
  study::Case c = car();
  for (const double degC : {-7.0, 23.0, 80.0}) {
    study::Duty duty = driven_duty("udds", {table("UDDS.csv")}, from_celsius(degC));
    duty.id = "udds@" + std::to_string(int(degC)) + "C";
    c.duties.push_back(duty);
  }
  study::Duty other = driven_duty("hwfet", {table("HWFET.csv")}, 23.0_degC);
  c.duties.push_back(other);
  c.service.distance = known(1000.0_km);
  const auto findings = study::evaluate(c, Sections::all());
  const auto shaft = [&](const char* id) {
    return row(findings, id, "whole").shaft_Wh_per_km->mid;
  };
  CHECK(shaft("udds@-7C") > shaft("udds@23C"));
  CHECK(shaft("udds@23C") > shaft("udds@80C"));
  // Without a mix the three starts share the weight of one duty: half of the distance.
  const double hours = *findings.variants[0].life[0].service_hours;
  const double udds_h = 0.5 * 1000.0 / 11.990239 * 1369.0 / 3600.0;
  const double hwfet_h = 0.5 * 1000.0 / 16.506550 * 765.0 / 3600.0;
  CHECK(hours == Approx(udds_h + hwfet_h).epsilon(1e-6));
}

TEST_CASE("a two-speed box turns the shaft by the gear of the road speed", "[derived]") {
  study::Case c = car();
  c.shafts[0].ratio = known(12.1);
  c.shafts[0].higher_gears = {{known(6.3), known(70.0_kmh), 10.0_kmh}};
  study::OperatingPoint fast = c.points[0];
  fast.id = "fast";
  fast.road_speed = known(120.0_kmh);
  c.points.push_back(fast);
  const auto findings = study::evaluate(c, energy);
  const auto rpm = [&](const char* point) {
    return std::ranges::find(findings.variants[0].budget, point, &study::BudgetRow::point)
        ->shaft_speed_rpm;
  };
  CHECK(rpm("running") == Approx(in_rpm(duty::shaft_speed(60.0_kmh, 12.1, 2040.0_mm))));
  CHECK(rpm("fast") == Approx(in_rpm(duty::shaft_speed(120.0_kmh, 6.3, 2040.0_mm))));

  // Over a cycle the seal turns less often than in the low gear alone, more than in the high one.
  c.duties = {driven_duty("wltc", {wltc_3b()}, 23.0_degC)};
  const auto way = [&](double low, double high) {
    study::Case other = c;
    other.shafts[0].ratio = known(low);
    other.shafts[0].higher_gears[0].ratio = known(high);
    return row(study::evaluate(other, energy), "wltc", "whole").shaft_Wh_per_km->mid;
  };
  CHECK(way(12.1, 6.3) < way(12.1, 12.0999));
  CHECK(way(12.1, 6.3) > way(6.3001, 6.3));
}

TEST_CASE("a seal on the wheel side turns at its ratio and is priced behind the gears",
          "[derived]") {
  study::Case c = car();
  study::Shaft wheel = c.shafts[0];
  wheel.id = "output";
  wheel.ratio = known(1.0);
  c.shafts.push_back(wheel);
  study::ExtraDrag drag;
  drag.id = "output-drag";
  drag.shaft = "output";
  study::StatedElement stated;
  stated.power = known(5.0_W);
  stated.at = known(100.0_rad_s);
  stated.torque_exponent = known(0.0);
  drag.element = {"output-drag", "Stated", stated};
  study::ExtraDrag same = drag;
  same.id = "rotor-drag";
  same.shaft = "rotor";
  same.element.id = "rotor-drag";
  c.variants[0].extras = {drag, same};
  c.duties = {driven_duty("wltc", {wltc_3b()}, 23.0_degC)};
  const auto findings = study::evaluate(c, energy);
  for (const study::BudgetRow& r : findings.variants[0].budget) {
    if (r.component == "output-drag")
      CHECK(r.shaft_speed_rpm == Approx(in_rpm(duty::shaft_speed(60.0_kmh, 1.0, 2040.0_mm))));
    if (r.component == "rotor-drag")
      CHECK(r.shaft_speed_rpm == Approx(in_rpm(duty::shaft_speed(60.0_kmh, 9.0, 2040.0_mm))));
  }
  // Constant torque 0.05 N m: T i/(3.6 r) Wh/km (derived: torque times angle).
  const auto& output = row(findings, "wltc", "whole", "output-drag");
  const auto& rotor = row(findings, "wltc", "whole", "rotor-drag");
  const double r_m = duty::rolling_radius(2040.0_mm).value();
  CHECK(output.shaft_Wh_per_km->mid == Approx(0.05 / (3.6 * r_m)).epsilon(1e-9));
  CHECK(rotor.shaft_Wh_per_km->mid == Approx(9.0 * 0.05 / (3.6 * r_m)).epsilon(1e-9));

  // At the battery: traction m/eta_gear, recuperation m eta_gear, with s the share of the way
  // that is driven by the machine.
  const auto steps = duty::steps(wltc_3b(), midsize_car());
  double pulled_m = 0.0, way_m = 0.0;
  for (const auto& s : steps) {
    way_m += s.distance.value();
    if (s.drive == duty::Drive::traction) pulled_m += s.distance.value();
  }
  const double pull = pulled_m / way_m;
  const double traction = 1.0 + 0.6 * (1.0 / 0.9 - 1.0), recuperation = 1.0 - 0.6 * 0.2;
  CHECK(rotor.battery_Wh_per_km->mid / rotor.shaft_Wh_per_km->mid ==
        Approx(pull * traction + (1.0 - pull) * recuperation).epsilon(1e-9));
  CHECK(output.battery_Wh_per_km->mid / output.shaft_Wh_per_km->mid ==
        Approx(pull * traction / 0.97 + (1.0 - pull) * recuperation * 0.97).epsilon(1e-9));
}

TEST_CASE("a road load by mass drives like its coefficients", "[derived]") {
  study::Case c = car();
  c.vehicle->usable_battery = known(Energy::from_value(60.0 * 3.6e6));
  c.duties = {driven_duty("wltc", {wltc_3b()}, 23.0_degC)};
  study::Case by_mass = c;
  by_mass.vehicle->by_mass =
      study::Vehicle::ByMass{known(0.0085), known(Area::from_value(0.55)), known(1.2_kg_m3)};
  const auto load = duty::road_load_from_mass(c.vehicle->test_mass.nominal(), 0.0085,
                                              Area::from_value(0.55), 1.2_kg_m3);
  c.vehicle->f0 = known(load.f0);
  c.vehicle->f1 = known(load.f1);
  c.vehicle->f2 = known(load.f2);
  CHECK(row(study::evaluate(c, energy), "wltc", "whole").battery_Wh_per_km->mid ==
        row(study::evaluate(by_mass, energy), "wltc", "whole").battery_Wh_per_km->mid);
}

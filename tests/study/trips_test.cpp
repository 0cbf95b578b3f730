// What a log of a trip measured beside the road speed takes the place of.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "ohmdrag/duty/trip_log.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "study/car_case.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::Sections;

namespace {

constexpr Sections energy{.energy = true};

/// A vehicle trip of an invented minute and a half: pulls away, rolls, stands, goes on.
const std::vector<double> speeds_kmh{0,  0,  8, 17, 26, 35, 42, 47, 50, 50.5, 50, 49, 47, 40, 31,
                                     20, 11, 4, 0,  0,  0,  5,  14, 25, 36,   45, 52, 56, 58, 58};

duty::TripPiece piece_of(const std::vector<double>& kmh, double step_s = 1.0) {
  duty::TripPiece piece;
  for (std::size_t i = 0; i < kmh.size(); ++i) {
    piece.time.push_back(Time::from_value(step_s * static_cast<double>(i)));
    piece.speed.push_back(Speed::from_value(kmh[i] / 3.6));
  }
  return piece;
}

duty::Trip trip_of(duty::TripPiece piece) {
  duty::Trip trip;
  trip.report.covered_share = 1.0;
  for (std::size_t i = 1; i < piece.time.size(); ++i)
    trip.report.distance +=
        0.5 * (piece.speed[i - 1] + piece.speed[i]) * (piece.time[i] - piece.time[i - 1]);
  trip.pieces.push_back(std::move(piece));
  return trip;
}

study::Duty duty_of(const char* id, std::vector<duty::Trip> trips) {
  study::Duty duty;
  duty.id = duty.family = id;
  duty.shaft = "rotor";
  for (std::size_t i = 0; i < trips.size(); ++i)
    duty.trips.push_back({std::to_string(i), [trip = trips[i]] { return trip; }});
  return duty;
}

study::Duty from(Temperature start, study::Duty duty) {
  duty.start_temperature = known(start);
  return duty;
}

AngularVelocity by_ratio(Speed v, double ratio = 9.0) {
  return duty::shaft_speed(v, ratio, 2040.0_mm);
}

/// A car with a bearing whose loads follow the torque.
study::Case loaded_car() {
  study::Case c = car();
  study::Bearing& bearing = c.bearings.front();
  bearing.load_torque = {Torque::from_value(-100.0), Torque{}, Torque::from_value(100.0)};
  bearing.radial = {known(1500.0_N), known(200.0_N), known(1500.0_N)};
  bearing.axial = {known(150.0_N), known(50.0_N), known(150.0_N)};
  bearing.type.load_torque_exponent = known(0.55);
  return c;
}

study::EnergyRow row(const study::Findings& findings, const std::string& duty,
                     const std::string& component) {
  for (const study::EnergyRow& r : findings.variants[0].energy)
    if (r.duty == duty && r.phase == "whole" && r.component == component) return r;
  throw std::out_of_range(duty + "/" + component);
}

study::Findings answer(study::Case c, std::vector<study::Duty> duties) {
  c.duties = std::move(duties);
  return study::evaluate(c, energy);
}

void check_equal(const study::Findings& findings, const char* a, const char* b, double relative) {
  for (const char* component : {"seal", "drive-end", "total"}) {
    CAPTURE(component);
    const study::EnergyRow one = row(findings, a, component), other = row(findings, b, component);
    CHECK(one.shaft_Wh_per_km->mid == Approx(other.shaft_Wh_per_km->mid).epsilon(relative));
    CHECK(one.battery_Wh_per_km->mid == Approx(other.battery_Wh_per_km->mid).epsilon(relative));
  }
}

}  // namespace

TEST_CASE("a logged shaft speed of ratio times road speed changes nothing", "[derived]") {
  duty::TripPiece plain = piece_of(speeds_kmh);
  duty::TripPiece logged = plain;
  for (const Speed& v : plain.speed) logged.shaft_speed.push_back(by_ratio(v));
  duty::TripPiece slipping = logged;
  for (AngularVelocity& n : slipping.shaft_speed) n = n * 1.1;
  const auto findings =
      answer(loaded_car(), {from(23.0_degC, duty_of("plain", {trip_of(plain)})),
                            from(23.0_degC, duty_of("logged", {trip_of(logged)})),
                            from(23.0_degC, duty_of("slipping", {trip_of(slipping)}))});
  check_equal(findings, "logged", "plain", 1e-9);
  CHECK(row(findings, "slipping", "seal").shaft_Wh_per_km->mid >
        1.05 * row(findings, "plain", "seal").shaft_Wh_per_km->mid);
  const auto& trips = findings.variants[0].trips;
  REQUIRE(trips.size() == 3);
  CHECK(trips[0].report.find("Measured") == std::string::npos);
  CHECK(trips[1].report.find("the speed of shaft rotor (9 turns in a turn of the wheel; the case "
                             "says 9)") != std::string::npos);
  CHECK(trips[2].report.find("(9.9 turns in a turn of the wheel;") != std::string::npos);
}

TEST_CASE("steps longer than a second and columns are cut alike", "[derived]") {
  duty::TripPiece plain = piece_of(speeds_kmh, 2.5);
  duty::TripPiece logged = plain;
  for (const Speed& v : plain.speed) logged.shaft_speed.push_back(by_ratio(v));
  const auto findings =
      answer(loaded_car(), {from(23.0_degC, duty_of("plain", {trip_of(plain)})),
                            from(23.0_degC, duty_of("logged", {trip_of(logged)}))});
  check_equal(findings, "logged", "plain", 1e-9);
}

TEST_CASE("a gap that is bridged is bridged in every column", "[derived]") {
  const std::string head = "t,v,n\n0,0,0\n1,20,1100\n2,30,1700\n";
  const std::string rest = "9,65,4150\n10,60,3800\n11,60,3700\n";
  std::string between;
  for (int s = 3; s < 9; ++s)
    between += std::to_string(s) + ',' + std::to_string(30 + 5 * (s - 2)) + ',' +
               std::to_string(1700 + 350 * (s - 2)) + '\n';
  duty::TripForm form;
  form.columns.time = {"t", "s"};
  form.columns.speed = {"v", "km/h"};
  form.columns.shaft_speed = duty::TripColumn{"n", "rpm"};
  const duty::Trip gap = duty::trip_from_csv(head + rest, form);
  REQUIRE(gap.report.gaps.size() == 1);
  const auto findings = answer(
      loaded_car(),
      {from(23.0_degC, duty_of("gap", {gap})),
       from(23.0_degC, duty_of("whole", {duty::trip_from_csv(head + between + rest, form)}))});
  check_equal(findings, "gap", "whole", 1e-9);
}

TEST_CASE("other shafts keep their ratio to the one that was logged", "[derived]") {
  study::Case c = loaded_car();
  study::Shaft wheel = c.shafts[0];
  wheel.id = "output";
  wheel.ratio = known(1.0);
  c.shafts.push_back(wheel);
  study::StatedElement stated;
  stated.power = known(5.0_W);
  stated.at = known(100.0_rad_s);
  stated.torque_exponent = known(0.0);
  study::ExtraDrag drag;
  drag.id = "drag";
  drag.shaft = "output";
  drag.element = {"drag", "Stated", stated};
  c.variants[0].extras = {drag};

  duty::TripPiece of_rotor = piece_of(speeds_kmh), of_output = of_rotor;
  for (const Speed& v : of_rotor.speed) {
    of_rotor.shaft_speed.push_back(by_ratio(v, 9.9));
    of_output.shaft_speed.push_back(by_ratio(v, 1.1));
  }
  study::Duty output = from(23.0_degC, duty_of("output", {trip_of(of_output)}));
  output.shaft = "output";
  const auto findings = answer(c, {from(23.0_degC, duty_of("rotor", {trip_of(of_rotor)})), output});
  check_equal(findings, "rotor", "output", 1e-9);
  // A constant torque of 0.05 N m takes T i/(3.6 r) Wh/km (derived: torque times angle).
  const double r_m = duty::rolling_radius(2040.0_mm).value();
  CHECK(row(findings, "rotor", "drag").shaft_Wh_per_km->mid ==
        Approx(1.1 * 0.05 / (3.6 * r_m)).epsilon(1e-9));
}

TEST_CASE("the logged shaft speed wins over the gears of a box", "[derived]") {
  study::Case one = loaded_car();
  one.shafts[0].ratio = known(6.3);
  study::Case box = loaded_car();
  box.shafts[0].ratio = known(12.1);
  box.shafts[0].higher_gears = {{known(6.3), known(30.0_kmh), Speed{}}};
  duty::TripPiece logged = piece_of(speeds_kmh);
  for (const Speed& v : logged.speed) logged.shaft_speed.push_back(by_ratio(v, 6.3));
  const study::Duty duty = from(23.0_degC, duty_of("d", {trip_of(logged)}));
  // The torque from the road load still follows the gears: it loads the bearing alone.
  const auto of_one = answer(one, {duty}), of_box = answer(box, {duty});
  CHECK(row(of_box, "d", "seal").shaft_Wh_per_km->mid ==
        Approx(row(of_one, "d", "seal").shaft_Wh_per_km->mid).epsilon(1e-3));  // by warmer oil
  CHECK(of_box.variants[0].trips[0].report.find("the case says 12.1 to 6.3") != std::string::npos);
}

TEST_CASE("a shaft that turns in a standing vehicle is paid by the battery", "[derived]") {
  duty::TripPiece piece = piece_of({0, 0, 0, 0, 10, 20});
  for (const Speed& v : piece.speed)
    piece.shaft_speed.push_back(std::max(by_ratio(v), AngularVelocity(800.0_rpm)));
  const auto findings = answer(loaded_car(), {from(23.0_degC, duty_of("d", {trip_of(piece)}))});
  const study::EnergyRow seal = row(findings, "d", "seal");
  // derived: all steps pull, so every joule has the price of traction.
  CHECK(seal.battery_Wh_per_km->mid / seal.shaft_Wh_per_km->mid ==
        Approx(1.0 + 0.6 * (1.0 / 0.9 - 1.0)).epsilon(1e-9));
}

TEST_CASE("a logged torque loads the bearings and nothing else", "[derived]") {
  const duty::TripPiece plain = piece_of({50, 50, 50, 50, 50});
  const study::Case c = loaded_car();
  const Force force = duty::road_force(midsize_car().road_load, 50.0_kmh);
  duty::TripPiece same = plain, more = plain;
  for (std::size_t i = 0; i < plain.time.size(); ++i) {
    same.torque.push_back(duty::shaft_torque(force, 9.0, 2040.0_mm));
    more.torque.push_back(3.0 * same.torque.back());
  }
  study::Duty held = duty_of("plain", {trip_of(plain)});
  held.oil_temperature = known(60.0_degC);
  study::Duty as_road = held, loaded = held;
  as_road.id = "same";
  as_road.trips = duty_of("", {trip_of(same)}).trips;
  loaded.id = "more";
  loaded.trips = duty_of("", {trip_of(more)}).trips;
  const auto findings = answer(c, {held, as_road, loaded});
  check_equal(findings, "same", "plain", 1e-9);
  CHECK(row(findings, "more", "drive-end").mean_W.mid >
        1.01 * row(findings, "plain", "drive-end").mean_W.mid);
  CHECK(row(findings, "more", "seal").mean_W.mid == row(findings, "plain", "seal").mean_W.mid);
  CHECK(findings.variants[0].trips.back().report.find("the torque of shaft rotor") !=
        std::string::npos);
}

TEST_CASE("a log that holds the temperatures of the march gives the march", "[derived]") {
  const duty::TripPiece plain = piece_of(speeds_kmh, 1.0);
  study::Case c = loaded_car();
  c.sump.heat_capacity = known(300.0_J_K);  // warms by tenths of a kelvin a step
  // The oil after every step: ends of the trips that stop there.
  std::vector<duty::Trip> beginnings;
  for (std::size_t n = 2; n <= plain.time.size(); ++n) {
    duty::TripPiece part = piece_of({speeds_kmh.begin(), speeds_kmh.begin() + std::ptrdiff_t(n)});
    beginnings.push_back(trip_of(std::move(part)));
  }
  const auto marched = answer(c, {from(23.0_degC, duty_of("plain", beginnings))});
  std::vector<double> after_degC{23.0};
  for (const study::TripRow& trip : marched.variants[0].trips)
    after_degC.push_back(trip.end_oil_temperature_degC->mid);
  CHECK(after_degC.back() > 26.0);

  // The march takes the oil that a step begins with, a log its mean over the step. Samples whose
  // means are the beginnings give the march itself.
  duty::TripPiece exact = plain, natural = plain;
  double sample_degC = 23.0;
  for (const double begin_degC : after_degC) {
    exact.sump_temperature.push_back(from_celsius(sample_degC));
    natural.sump_temperature.push_back(from_celsius(begin_degC));
    sample_degC = 2.0 * begin_degC - sample_degC;
  }
  const auto findings =
      answer(c, {from(23.0_degC, duty_of("plain", {trip_of(plain)})),
                 duty_of("exact", {trip_of(exact)}), duty_of("natural", {trip_of(natural)})});
  check_equal(findings, "exact", "plain", 1e-9);
  // As measured the oil runs half a step ahead of the march: here 0.1 K, of 3 to 4 % a kelvin.
  check_equal(findings, "natural", "plain", 5e-3);
  CHECK(row(findings, "natural", "total").shaft_Wh_per_km->mid !=
        row(findings, "plain", "total").shaft_Wh_per_km->mid);
  CHECK(row(findings, "natural", "total").flags.back().text.find("The oil is held to the logs") !=
        std::string::npos);
  CHECK(findings.variants[0].trips.back().report.find("the oil, held to the log: 23 to ") !=
        std::string::npos);
}

TEST_CASE("a logged ambient cools the sump and the dry side that nobody stated", "[derived]") {
  const auto trip_at = [](Temperature ambient) {
    duty::TripPiece piece = piece_of(speeds_kmh);
    piece.ambient_temperature.assign(piece.time.size(), ambient);
    return trip_of(std::move(piece));
  };
  const auto seal_W = [](const study::Findings& f, const char* d) {
    return row(f, d, "seal").mean_W.mid;
  };
  study::Case c = loaded_car();
  c.sump.heat_capacity = known(300.0_J_K);
  c.sump.ambient = known(from_celsius(-5.0));
  const duty::Trip plain = trip_of(piece_of(speeds_kmh));
  for (const bool states_dry_side : {true, false}) {
    CAPTURE(states_dry_side);
    if (!states_dry_side) c.shafts[0].dry_side_temperature.reset();
    study::Case warm = c;
    warm.sump.ambient = known(35.0_degC);
    const auto cold = answer(c, {from(23.0_degC, duty_of("plain", {plain})),
                                 from(23.0_degC, duty_of("same", {trip_at(from_celsius(-5.0))})),
                                 from(23.0_degC, duty_of("warm", {trip_at(35.0_degC)}))});
    const auto hot = answer(warm, {from(23.0_degC, duty_of("plain", {plain}))});
    check_equal(cold, "same", "plain", 1e-12);
    CHECK(seal_W(cold, "warm") == Approx(seal_W(hot, "plain")).epsilon(1e-12));
    CHECK(seal_W(cold, "warm") < seal_W(cold, "same"));
  }
}

TEST_CASE("progress is told before each trip and once at the end", "[derived]") {
  study::Case c = loaded_car();
  const duty::Trip trip = trip_of(piece_of(speeds_kmh));
  c.duties = {from(23.0_degC, duty_of("a", {trip, trip})), from(0.0_degC, duty_of("b", {trip}))};
  std::vector<std::pair<std::size_t, std::size_t>> told;
  study::evaluate(c, energy, [&](std::size_t done, std::size_t all) {
    told.push_back({done, all});
  });
  CHECK(told == std::vector<std::pair<std::size_t, std::size_t>>{{0, 3}, {1, 3}, {2, 3}, {3, 3}});
}

TEST_CASE("the total of a phase is the sum of its components in one draw", "[derived]") {
  study::Case c = loaded_car();
  study::Duty cycle;
  cycle.id = cycle.family = "wltc";
  cycle.cycles = {wltc_3b()};
  c.duties = {from(23.0_degC, cycle)};
  const auto findings = study::evaluate(c, energy);
  const auto& variant = findings.variants[0];
  REQUIRE(variant.energy_totals.size() == 5);
  CHECK(variant.energy_totals.front().phase == "low");
  CHECK(variant.energy_totals.back().phase == "whole");
  for (const study::EnergyTotal& total : variant.energy_totals) {
    CAPTURE(total.phase);
    double shaft = 0.0, battery = 0.0, W = 0.0;
    for (const study::EnergyRow& r : variant.energy) {
      if (r.phase != total.phase || r.component == "total") continue;
      shaft += r.shaft_Wh_per_km->mid;
      battery += r.battery_Wh_per_km->mid;
      W += r.mean_W.mid;
    }
    CHECK(total.duty == "wltc");
    CHECK(total.shaft_Wh_per_km->mid == Approx(shaft).epsilon(1e-9));
    CHECK(total.battery_Wh_per_km->mid == Approx(battery).epsilon(1e-9));
    CHECK(total.mean_W.mid == Approx(W).epsilon(1e-9));
  }
  CHECK(row(findings, "wltc", "total").mean_W.mid == variant.energy_totals.back().mean_W.mid);
}

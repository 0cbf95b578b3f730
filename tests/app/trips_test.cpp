// A folder of measured trips as a duty, through the program.
#include <array>
#include <catch2/catch.hpp>
#include <cctype>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>

#include "app/program.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

const std::string head = R"case([study]
title = "Invented: a lip on trips"
invented = true
samples = 5
[vehicle]
test_mass = "2000 kg ± 5 %"
road_load = { f0 = "150 N", f1 = "1 N/(km/h)", f2 = "0.03 N/(km/h)^2" }
tyre = "215/65 R16"
usable_battery = "60 kWh"
[vehicle.path]
mean_efficiency = 0.9
load_independent_share = 0.4
recuperation_efficiency = 0.8
[sump]
lubricant = "thin-axle-oil"
heat_capacity = "12 kJ/K"
conductance = "12 W/K"
ambient = "23 degC"
[[shaft]]
id = "rotor"
ratio = 10.0
diameter = "45 mm"
dry_side_temperature = "60 degC"
[[variant]]
id = "plain"
[variant.seal]
element = "light-lip"
position = "12 mm"
[[variant]]
id = "heavy"
[variant.seal]
element = "standard-lip"
position = "12 mm"
)case";

std::string trips(const std::string& id, const std::string& folder) {
  return "[[duty]]\nid = \"" + id + "\"\nstart_temperature = \"23 degC\"\ntrips = \"" + folder +
         "\"\ncolumns = { time = { name = \"time_s\", unit = \"s\" }, speed = { name = "
         "\"speed_kmh\", unit = \"km/h\" } }\n";
}

std::string cycle(const std::string& id) {
  return "[[duty]]\nid = \"" + id + "\"\nstart_temperature = \"23 degC\"\ncycle = \"" + id + "\"\n";
}

std::string table(const std::string& file) {
  return test::file_text(test::in_source("data/cycles/") + file);
}

json energy(const std::filesystem::path& file) {
  const test::Ran ran = test::ohmdrag({"energy", file.string(), "--json", "--quiet"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  return json::parse(ran.out);
}

/// The row of a component over a whole duty.
json row(const json& variant, const std::string& duty, const std::string& component) {
  for (const json& r : variant.at("energy"))
    if (r.at("duty") == duty && r.at("component") == component && r.at("phase") == "whole")
      return r;
  FAIL("no row of " << duty << ", " << component);
  return {};
}

/// An ensemble marches cycles out of tables and trips step by step: so far they may part.
constexpr double of_tables = 1e-5;

void check_same(const json& a, const json& b, double relative) {
  for (const char* end : {"low", "mid", "high"})
    CHECK(a.at(end).get<double>() == Approx(b.at(end).get<double>()).epsilon(relative));
}

}  // namespace

TEST_CASE("a cycle that was logged gives what the cycle gives, two add up", "[derived]") {
  const test::Folder folder;
  std::filesystem::create_directories(folder.path() / "one");
  std::filesystem::create_directories(folder.path() / "both");
  for (const char* place : {"one/", "both/"})
    folder.write(place + std::string("a.csv"), table("WLTC_class3b.csv"));
  folder.write("both/b.csv", table("CLTC-P.csv"));
  const json answer =
      energy(folder.write("case.toml", head + cycle("wltc-3b") + cycle("cltc-p") +
                                           trips("logged", "one") + trips("both", "both")));
  for (const json& variant : answer.at("variants")) {
    for (const char* component : {"seal", "total"})
      for (const char* key : {"shaft_Wh_per_km", "battery_Wh_per_km", "mean_W"})
        check_same(row(variant, "logged", component).at(key),
                   row(variant, "wltc-3b", component).at(key), of_tables);
    check_same(row(variant, "logged", "total").at("end_oil_temperature_degC"),
               row(variant, "wltc-3b", "total").at("end_oil_temperature_degC"), of_tables);

    const json both = row(variant, "both", "total");
    const double a_km = row(variant, "wltc-3b", "total").at("distance_km");
    const double b_km = row(variant, "cltc-p", "total").at("distance_km");
    CHECK(both.at("distance_km").get<double>() == Approx(a_km + b_km).epsilon(1e-12));
    // Each begins soaked, so the energies of the two duties add up; the median draw is not the same
    // for all, hence the tolerance.
    const auto Wh = [&](const char* duty, double km) {
      return km * row(variant, duty, "total").at("shaft_Wh_per_km").at("mid").get<double>();
    };
    CHECK(Wh("both", a_km + b_km) ==
          Approx(Wh("wltc-3b", a_km) + Wh("cltc-p", b_km)).epsilon(1e-3));

    REQUIRE(variant.at("trips").size() == 3);
    const json& trip = variant.at("trips").at(0);
    CHECK(trip.at("duty") == "logged");
    CHECK(trip.at("trip") == "a.csv");
    CHECK(trip.at("error").is_null());
    CHECK_THAT(trip.at("report").get<std::string>(), Contains("1801 samples, median step 1 s"));
    check_same(trip.at("shaft_Wh_per_km"), row(variant, "logged", "total").at("shaft_Wh_per_km"),
               1e-12);
  }
  const json& heavy = answer.at("variants").at(1);
  check_same(row(heavy, "logged", "net").at("range_change_km"),
             row(heavy, "wltc-3b", "net").at("range_change_km"), of_tables);
}

TEST_CASE("a broken trip is left out by name, the rest is used", "[derived]") {
  const test::Folder folder;
  std::filesystem::create_directories(folder.path() / "log");
  folder.write("log/good.csv", "time_s,speed_kmh\n0,0\n1,20\n2,40\n3,40\n4,20\n5,0\n");
  folder.write("log/gap.csv", "time_s,speed_kmh\n0,0\n1,20\n2,20\n40,20\n41,20\n42,0\n");
  folder.write("log/broken.csv", "time_s,speed_kmh\n0,0\n1,20\n1,oops\n");
  folder.write("log/parked.csv", "time_s,speed_kmh\n0,0\n1,0\n2,0\n");
  const auto file = folder.write("case.toml", head + trips("mine", "log"));
  const json answer = energy(file);
  const json& rows = answer.at("variants").at(0).at("trips");
  REQUIRE(rows.size() == 4);
  CHECK(rows.at(0).at("trip") == "broken.csv");
  CHECK_THAT(rows.at(0).at("error").get<std::string>(), Contains("line 4, column \"speed_kmh\""));
  CHECK(rows.at(0).at("mean_W").is_null());
  CHECK_THAT(rows.at(1).at("report").get<std::string>(), Contains("1 gap left out"));
  CHECK(rows.at(1).at("covered_share").get<double>() == Approx(4.0 / 42.0));
  CHECK(rows.at(3).at("trip") == "parked.csv");
  CHECK(rows.at(3).at("distance_km") == 0.0);
  CHECK(rows.at(3).at("shaft_Wh_per_km").is_null());
  CHECK_THAT(answer.at("cautions").dump(),
             Contains("Trip broken.csv of duty mine was left out: line 4"));

  const test::Ran text = test::ohmdrag({"energy", file.string(), "--quiet"});
  CHECK(text.status == 0);
  CHECK_THAT(text.out, Contains("left out"));
  CHECK_THAT(text.out, Contains("good.csv"));
}

TEST_CASE("a folder without one sound trip is refused", "[derived]") {
  const test::Folder folder;
  std::filesystem::create_directories(folder.path() / "log");
  folder.write("log/broken.csv", "time_s,speed_kmh\n0,0\n1,20\n1,oops\n");
  const auto file = folder.write("case.toml", head + trips("mine", "log"));
  const test::Ran ran = test::ohmdrag({"energy", file.string()});
  CHECK(ran.status == 2);
  CHECK_THAT(ran.err, Contains("no trip can be used, of 1 read; broken.csv: line 4"));
}

TEST_CASE("trips start at several temperatures as cycles do", "[derived]") {
  const test::Folder folder;
  std::filesystem::create_directories(folder.path() / "log");
  folder.write("log/a.csv", table("WLTC_class3b.csv"));
  std::string logged = trips("logged", "log"), driven = cycle("wltc-3b");
  for (std::string* duty : {&logged, &driven})
    duty->replace(duty->find("\"23 degC\""), 9, "[\"23 degC\", \"-7 degC\"]");
  const json answer = energy(folder.write("case.toml", head + logged + driven));
  for (const char* start : {"@23C", "@-7C"})
    check_same(row(answer.at("variants").at(0), std::string("logged") + start, "total")
                   .at("battery_Wh_per_km"),
               row(answer.at("variants").at(0), std::string("wltc-3b") + start, "total")
                   .at("battery_Wh_per_km"),
               of_tables);
  CHECK(answer.at("variants").at(0).at("trips").size() == 2);
}

TEST_CASE("columns of a log take the place of the case, through the program", "[derived]") {
  const test::Folder folder;
  std::filesystem::create_directories(folder.path() / "log");
  const std::string speed = table("WLTC_class3b.csv");
  // n = v i/U with U = 3.05 (2 0.65 215 mm + 406.4 mm) = 2092 mm (derived, GTR No. 15 formula).
  std::string with_speed = "time_s,speed_kmh,n\n";
  for (const std::string& line : test::lines_of(speed)) {
    const std::size_t comma = line.find(',');
    char* end = nullptr;
    const double v_kmh = std::strtod(line.c_str() + comma + 1, &end);
    if (line.empty() || !std::isdigit(static_cast<unsigned char>(line[0]))) continue;
    std::array<char, 40> n{};
    std::snprintf(n.data(), n.size(), ",%.15g\n", v_kmh / 3.6 * 10.0 / 2.092 * 60.0);
    with_speed += line.substr(0, line.find_last_not_of("\r\n") + 1) + n.data();
  }
  folder.write("log/a.csv", with_speed);
  std::string logged = trips("logged", "log");
  logged.replace(logged.rfind("}"), 1, ", shaft_speed = { name = \"n\", unit = \"rpm\" } }");
  const json answer = energy(folder.write("case.toml", head + logged + cycle("wltc-3b")));
  const json& variant = answer.at("variants").at(0);
  for (const char* key : {"shaft_Wh_per_km", "battery_Wh_per_km", "mean_W"})
    check_same(row(variant, "logged", "total").at(key), row(variant, "wltc-3b", "total").at(key),
               of_tables);
  CHECK_THAT(variant.at("trips").at(0).at("report").get<std::string>(),
             Contains("Measured, in place of the case: the speed of shaft rotor (10 turns"));
}

// The columns of a duty's trips and what goes with them.

#include <string>

#include "input/support.hpp"
#include "ohmdrag/duty/trip_log.hpp"

using namespace ohmdrag;
using test::Folder;
using test::replaced;

namespace {

const std::string car = R"toml([study]
title = "One lip"
[vehicle]
test_mass = "1800 kg"
tyre = "215/65 R16"
road_load = { f0 = "150 N", f1 = "0.3 N/(km/h)", f2 = "0.03 N/(km/h)^2" }
[vehicle.path]
mean_efficiency = 0.9
recuperation_efficiency = 0.8
[sump]
lubricant = "thin-axle-oil"
heat_capacity = "12 kJ/K"
conductance = "12 W/K"
[[shaft]]
id = "rotor"
ratio = 9
diameter = "45 mm"
[[shaft]]
id = "output"
ratio = 1
diameter = "60 mm"
[[variant]]
id = "plain"
[variant.seal]
element = "light-lip"
position = "12 mm"
[[duty]]
id = "mine"
trips = "trip.csv"
)toml";

const std::string time_and_speed =
    "time = { name = \"t\", unit = \"s\" }, speed = { name = \"v\", unit = \"km/h\" }";

std::string columns(const std::string& more = {}) {
  return "columns = { " + time_and_speed + more + " }\n";
}

const std::string shaft_speed = ", shaft_speed = { name = \"n\", unit = \"rpm\" }";
const std::string torque = ", torque = { name = \"M\", unit = \"N*m\" }";
const std::string sump = ", sump_temperature = { name = \"oil\", unit = \"degC\" }";
const std::string ambient = ", ambient_temperature = { name = \"air\", unit = \"degC\" }";
const std::string start = "start_temperature = \"23 degC\"\n";

class Car {
 public:
  explicit Car(const std::string& log = "t,v,n,M,oil,air\n0,0,0,0,20,5\n1,10,800,20,21,5\n") {
    folder_.write("trip.csv", log);
  }
  study::Case load(const std::string& duty, const std::string& text = car) const {
    return input::load_case(folder_.write("case.toml", text + duty), test::options());
  }
  std::vector<std::string> complaints(const std::string& duty) const {
    std::vector<std::string> words;
    try {
      load(duty);
    } catch (const input::InputError& error) {
      for (const input::Problem& problem : error.problems) words.push_back(in_words(problem));
    }
    return words;
  }
  void check_complaint(const std::string& duty, const std::string& part) const {
    const auto words = complaints(duty);
    CAPTURE(duty, words);
    REQUIRE(words.size() == 1);
    CHECK(words[0].find(part) != std::string::npos);
  }

 private:
  Folder folder_;
};

}  // namespace

TEST_CASE("columns of a trip are read in their units", "[derived]") {
  const Car here;
  const study::Case c = here.load(columns(shaft_speed + torque + sump + ambient));
  REQUIRE(c.duties.size() == 1);
  CHECK(c.duties[0].shaft == "rotor");
  CHECK_FALSE(c.duties[0].start_temperature);
  const duty::Trip trip = c.duties[0].trips.at(0).read();
  const duty::TripPiece& piece = trip.pieces.at(0);
  CHECK(in_rpm(piece.shaft_speed.at(1)) == Approx(800.0));
  CHECK(piece.torque.at(1).value() == 20.0);
  CHECK(in_celsius(piece.sump_temperature.at(1)) == Approx(21.0));
  CHECK(in_celsius(piece.ambient_temperature.at(1)) == Approx(5.0));
}

TEST_CASE("shaft speed and torque are of the shaft that the duty names", "[derived]") {
  const Car here;
  CHECK(here.load(columns(torque) + start + "shaft = \"output\"\n").duties[0].shaft == "output");
  CHECK(here.load(columns() + start).duties[0].shaft.empty());
  here.check_complaint(columns(ambient) + start + "shaft = \"output\"\n",
                       "columns maps neither shaft_speed nor torque");
  here.check_complaint(columns(torque) + start + "shaft = \"wheel\"\n", "\"wheel\"");
}

TEST_CASE("the oil of a trip is stated in one place", "[derived]") {
  const Car here;
  here.check_complaint(columns(),
                       "expected start_temperature, oil_temperature or a column "
                       "sump_temperature; found none");
  here.check_complaint(columns(sump) + start, "stands beside a sump_temperature");
  here.check_complaint(columns(sump) + "oil_temperature = \"60 degC\"\n",
                       "stands beside a sump_temperature");
  CHECK_FALSE(here.load(columns(sump)).duties[0].oil_temperature);
}

TEST_CASE("an ambient without effect is said", "[derived]") {
  const Car here;
  const auto said = [](const study::Case& c) {
    return std::ranges::any_of(c.warnings, [](const std::string& warning) {
      return warning.find("ambient_temperature of duty mine has no effect") != std::string::npos;
    });
  };
  std::string both = replaced(car, "diameter = \"45 mm\"",
                              "diameter = \"45 mm\"\ndry_side_temperature = \"60 degC\"");
  CHECK_FALSE(said(here.load(columns(sump + ambient), both)));
  both = replaced(both, "diameter = \"60 mm\"",
                  "diameter = \"60 mm\"\ndry_side_temperature = \"60 degC\"");
  CHECK(said(here.load(columns(sump + ambient), both)));
  CHECK_FALSE(said(here.load(columns(ambient) + start, both)));
}

TEST_CASE("several start temperatures make a family of trips", "[derived]") {
  const Car here;
  const study::Case c =
      here.load(columns() +
                "start_temperature = [\"23 degC\", \"-7 degC\"]\n[service]\nmix = { mine = 1 }\n");
  REQUIRE(c.duties.size() == 2);
  CHECK(c.duties[0].id == "mine@23C");
  CHECK(c.duties[1].id == "mine@-7C");
  for (const study::Duty& duty : c.duties) {
    CHECK(duty.family == "mine");
    REQUIRE(duty.trips.size() == 1);
    CHECK(duty.trips[0].read().report.samples == 2);
  }
  CHECK(std::ranges::count_if(c.provenance.includes, [](const auto& include) {
          return include.file.ends_with("trip.csv");
        }) == 1);
}

TEST_CASE("a broken sensor or a wrong unit refuses the trip", "[derived]") {
  const auto refusal = [](const std::string& log) {
    const Car here(log);
    const study::Case c = here.load(columns(shaft_speed + sump + ambient));
    try {
      c.duties[0].trips.at(0).read();
    } catch (const duty::TripError& error) {
      return std::string(error.what());
    }
    return std::string();
  };
  const std::string head = "t,v,n,oil,air\n0,0,0,20,5\n";
  CHECK(refusal(head + "1,10,800,21,5\n").empty());
  CHECK(refusal(head + "1,10,800,294,5\n").find("the sump temperature is 294 degC") !=
        std::string::npos);
  CHECK(refusal(head + "1,10,800,21,-273\n").find("the ambient temperature is -273 degC") !=
        std::string::npos);
  CHECK(refusal(head + "1,10,1e6,21,5\n").find("the shaft speed is 1e+06 rpm") !=
        std::string::npos);
}

TEST_CASE("a charging efficiency needs no price", "[derived]") {
  const Car here;
  const std::string rest = columns() + start + "[prices]\ncharging_efficiency = 0.9\n";
  const study::Case c = here.load(rest);
  REQUIRE(c.prices);
  CHECK(c.prices->charging_efficiency == 0.9);
  CHECK(c.prices->currency.empty());
  here.check_complaint(rest + "energy = 0.3\n", "currency");
}

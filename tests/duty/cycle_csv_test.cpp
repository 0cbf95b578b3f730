#include <catch2/catch.hpp>
#include <string>

#include "ohmdrag/duty/cycle.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using test::within;

namespace {

const duty::CycleLabel label{
    .id = "demo", .title = "a demonstration", .source = "invented", .phases = {}};

}  // namespace

TEST_CASE("a table of two columns is a cycle of one phase", "[duty][derived]") {
  const auto cycle = duty::cycle_from_csv("time_s,speed_kmh\n0,0\n1,3.6\n3,0.0\n", label);
  CHECK(cycle.id == "demo");
  CHECK(cycle.title == "a demonstration");
  CHECK(cycle.source == "invented");
  REQUIRE(cycle.time.size() == 3);
  CHECK(cycle.time[2] == 3.0_s);
  CHECK_THAT(cycle.speed[1], within(1.0_m_s, 1e-15_m_s));
  REQUIRE(cycle.phases.size() == 1);
  CHECK(cycle.phases[0].id == duty::whole);
  CHECK(cycle.phases[0].last == 2);
}

TEST_CASE("a last line without its line feed is read", "[duty][derived]") {
  CHECK(duty::cycle_from_csv("time_s,speed_kmh\n0,0\n1,3.6", label).time.size() == 2);
}

TEST_CASE("phases share the sample between them", "[duty][derived]") {
  duty::CycleLabel two = label;
  two.phases = {{"first", 1.0_s}, {"second", 3.0_s}};
  const auto cycle = duty::cycle_from_csv("time_s,speed_kmh\n0,0\n1,0\n2,9\n3,0\n", two);
  REQUIRE(cycle.phases.size() == 2);
  CHECK(cycle.phases[0].first == 0);
  CHECK(cycle.phases[0].last == 1);
  CHECK(cycle.phases[1].first == 1);
  CHECK(cycle.phases[1].last == 3);
}

TEST_CASE("a phase must end at a sample and the last one at the last", "[duty][derived]") {
  const std::string text = "time_s,speed_kmh\n0,0\n2,9\n3,0\n";
  duty::CycleLabel wrong = label;
  SECTION("between samples") { wrong.phases = {{"first", 1.0_s}, {"second", 3.0_s}}; }
  SECTION("beyond the table") { wrong.phases = {{"first", 2.0_s}, {"second", 4.0_s}}; }
  SECTION("too early") { wrong.phases = {{"first", 2.0_s}}; }
  SECTION("backwards") { wrong.phases = {{"first", 3.0_s}, {"second", 2.0_s}}; }
  CHECK_THROWS_AS(duty::cycle_from_csv(text, wrong), std::invalid_argument);
}

TEST_CASE("a bad table is refused with its line", "[duty][derived]") {
  struct Row {
    std::string text;
    std::string complaint;
  };
  const auto row = GENERATE(values<Row>({
      {"", "line 1"},
      {"time,speed\n0,0\n1,0\n", "line 1"},
      {"\xEF\xBB\xBFtime_s,speed_kmh\n0,0\n1,0\n", "line 1"},
      {"time_s,speed_kmh\r\n0,0\r\n1,0\r\n", "line 1"},
      {"time_s,speed_kmh\n0,0\n1,0\r\n", "line 3"},
      {"time_s,speed_kmh\n0,0\n1,x\n", "line 3: \"x\" is no number"},
      {"time_s,speed_kmh\n0,0\n1,\n", "line 3"},
      {"time_s,speed_kmh\n0,0\n1\n", "line 3: fewer than 2 columns"},
      {"time_s,speed_kmh\n0,0\n\n2,0\n", "line 3"},
      {"time_s,speed_kmh\n0,0\n1,1,5\n", "line 3: more than 2 columns"},
      {"time_s,speed_kmh\n0,0\n1,nan\n", "line 3: \"nan\" is no number"},
      {"time_s,speed_kmh\n0,0\n1,inf\n", "line 3: \"inf\" is no number"},
      {"time_s,speed_kmh\n0,0\n2,1\n2,1\n", "line 4: time does not rise"},
      {"time_s,speed_kmh\n0,0\n2,1\n1,1\n", "line 4: time does not rise"},
      {"time_s,speed_kmh\n0,0\n1,-0.1\n", "line 3: negative speed"},
      {"time_s,speed_kmh,speed_mph\n0,0,0\n1,1.609344,1.1\n",
       "line 3: 1.609344 km/h is not 1.1 mph"},
      {"time_s,speed_kmh\n0,0\n", "fewer than two samples"},
  }));
  CAPTURE(row.text);
  CHECK_THROWS_WITH(duty::cycle_from_csv(row.text, label), Contains(row.complaint));
  CHECK_THROWS_WITH(duty::cycle_from_csv(row.text, label), Contains("cycle demo"));
}

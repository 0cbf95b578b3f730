#include <fmt/format.h>

#include <array>
#include <string_view>

#include "input/case_reader.hpp"

namespace ohmdrag::input {

void CaseReader::read_points() {
  constexpr std::array<std::string_view, 2> speeds{"road_speed", "shaft_speed"};
  for (TableReader& table : top_.tables("operating_point")) {
    study::OperatingPoint point;
    point.id = id_text(table);
    const std::string_view speed = table.exactly_one(speeds);
    point.road_speed = table.maybe_number<Speed>("road_speed");
    point.shaft_speed = table.maybe_number<AngularVelocity>("shaft_speed");
    if (speed == speeds[0] && !out_.vehicle)
      table.complain("road_speed", "a road speed needs a [vehicle]; there is none",
                     "write shaft_speed = \"… rpm\" instead");
    point.shaft = shaft_of(table);
    if (speed == speeds[1]) need_one_ratio(table);
    point.oil_temperature = table.number<Temperature>("oil_temperature");
    point.torque = table.maybe_number<Torque>("torque");
    point.running_time = table.maybe_number<Time>("running_time");
    table.done();
    out_.points.push_back(std::move(point));
  }
}

void CaseReader::read_running_in() {
  const Node& defaults = tables_.section("running_in");
  const Node* own = top_.find("running_in");
  TableReader table{context_, own ? own : &defaults, "running_in"};
  out_.running_in.excess = table.number<double>("excess", defaults.find("excess"));
  out_.running_in.time = table.number<Time>("time", defaults.find("time"));
  table.done();
}

void CaseReader::read_duties() {
  constexpr std::array<std::string_view, 5> kinds{"cycle", "shaft_speed", "steps", "histogram",
                                                  "trips"};
  constexpr std::array<std::string_view, 2> temperatures{"start_temperature", "oil_temperature"};
  for (TableReader& table : top_.tables("duty")) {
    study::Duty duty;
    duty.id = id_text(table);
    duty.title = table.maybe_text("title").value_or(duty.id);
    const std::string_view kind = table.exactly_one(kinds);
    const bool by_step = kind == kinds[2] || kind == kinds[3];
    // Steps and logs may hold the oil themselves.
    table.exactly_one(temperatures, /*required=*/!by_step && kind != kinds[4]);
    duty.oil_temperature = table.maybe_number<Temperature>("oil_temperature");
    if (kind == kinds[0]) {
      read_cycles(table, duty);
    } else if (kind == kinds[4]) {
      read_trips(table, duty);
    } else {
      duty.hours_per_year = table.maybe_number<Time>("hours_per_year");
      duty.shaft = shaft_of(table);
      need_one_ratio(table);
      if (by_step) {
        read_load_steps(table, kind, duty);
      } else {
        duty.shaft_speed = table.maybe_number<AngularVelocity>("shaft_speed");
        duty.torque = table.maybe_number<Torque>("torque");
      }
    }
    add_duty(table, std::move(duty));
    table.done();
  }
}

}  // namespace ohmdrag::input

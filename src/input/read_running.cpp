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
  constexpr std::array<std::string_view, 2> kinds{"cycle", "shaft_speed"};
  constexpr std::array<std::string_view, 2> temperatures{"start_temperature", "oil_temperature"};
  for (TableReader& table : top_.tables("duty")) {
    study::Duty duty;
    duty.id = id_text(table);
    duty.title = table.maybe_text("title").value_or(duty.id);
    const std::string_view kind = table.exactly_one(kinds);
    if (kind == kinds[0]) {
      if (!out_.vehicle)
        table.complain("cycle", "a drive cycle needs a [vehicle]; there is none",
                       "write shaft_speed = \"… rpm\" and hours_per_year instead");
      const std::vector<std::string> known = tables_.ids("cycle");
      for (const std::string& id : table.texts("cycle")) {
        if (tables_.entry("cycle", id))
          duty.cycles.push_back(tables_.cycle(id));
        else
          table.complain("cycle", fmt::format("read \"{}\", but there is no such cycle", id),
                         suggestion(id, known));
      }
      if (table.items("cycle").empty())
        table.complain("cycle", "read an empty list; expected at least one cycle");
    } else {
      duty.shaft_speed = table.maybe_number<AngularVelocity>("shaft_speed");
      duty.torque = table.maybe_number<Torque>("torque");
      duty.hours_per_year = table.maybe_number<Time>("hours_per_year");
      duty.shaft = shaft_of(table);
    }
    table.exactly_one(temperatures);
    duty.start_temperature = table.maybe_number<Temperature>("start_temperature");
    duty.oil_temperature = table.maybe_number<Temperature>("oil_temperature");
    table.done();
    out_.duties.push_back(std::move(duty));
  }
}

}  // namespace ohmdrag::input

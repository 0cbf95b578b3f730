#include <fmt/format.h>

#include <array>
#include <stdexcept>
#include <string_view>

#include "input/case_reader.hpp"
#include "input/element_reader.hpp"
#include "ohmdrag/duty/vehicle.hpp"
#include "ohmdrag/study/members.hpp"

namespace ohmdrag::input {

void CaseReader::read_vehicle() {
  const Node* node = top_.find("vehicle");
  if (!node) return;
  TableReader table = top_.table("vehicle");
  study::Vehicle vehicle;
  study::for_each_member(vehicle, [&](const char* name, auto& member) {
    table.into(name, member, fallback("vehicle_defaults", name));
  });

  constexpr std::array<std::string_view, 2> loads{"road_load", "road_load_us"};
  const std::string_view load = table.exactly_one(loads);
  if (!load.empty()) {
    TableReader coefficients = table.table(load);
    const bool us = load == loads[1];
    if (!us && coefficients.has("rolling")) {
      vehicle.by_mass = study::Vehicle::ByMass{
          coefficients.number<double>("rolling"), coefficients.number<Area>("drag_area"),
          coefficients.number<Density>("air_density", fallback("vehicle_defaults", "air_density"))};
      warn(
          "The road load is computed from rolling coefficient and drag area: no drag of seals and "
          "bearings is inside it, as it would be in a coast-down.");
    } else {
      vehicle.f0 = coefficients.number<Force>(us ? "a" : "f0");
      vehicle.f1 = coefficients.number<RoadLoadLinear>(us ? "b" : "f1");
      vehicle.f2 = coefficients.number<RoadLoadQuadratic>(us ? "c" : "f2");
    }
    coefficients.done();
  }

  vehicle.tyre = table.text("tyre");
  vehicle.rolling_circumference = Length::from_value(1.0);
  if (!vehicle.tyre.empty()) {
    try {
      vehicle.rolling_circumference =
          duty::rolling_circumference(duty::tyre_from_code(vehicle.tyre));
    } catch (const std::invalid_argument& error) {
      table.complain("tyre", error.what(), "for example \"215/65 R16\"");
    }
  }

  TableReader path = table.required_table("path");
  const auto share = [&](const char* name) {
    return path.number<double>(name, fallback("vehicle_defaults", name));
  };
  vehicle.mean_efficiency = share("mean_efficiency");
  vehicle.load_independent_share = share("load_independent_share");
  vehicle.recuperation_efficiency = share("recuperation_efficiency");
  vehicle.recuperation_share = share("recuperation_share");
  vehicle.gear_efficiency = share("gear_efficiency");
  path.done();
  table.done();
  out_.vehicle = vehicle;
}

void CaseReader::read_sump() {
  const Node* node = top_.find("sump");
  // A single contact without a sump still stands in some oil: the default one, said aloud.
  Node empty;
  empty.origin = "sump";
  empty.place = root_.place;
  TableReader table{context_, node ? node : &empty, "sump"};
  study::Sump& sump = out_.sump;

  const Node& defaults = tables_.section("sump_defaults");
  std::string lubricant;
  if (node) {
    lubricant = known_id(table, "lubricant", entry_ids({"lubricant"}), "lubricant");
  } else {
    const Node* standard = defaults.find("lubricant");
    if (standard && standard->is_text()) lubricant = standard->text;
    warn(
        fmt::format("There is no [sump]: the oil is taken as {}, everything about the sump as the "
                    "range of the trade.",
                    lubricant));
  }
  if (const auto oil = entry("lubricant", lubricant))
    sump.lubricant = read_lubricant(context_, *oil, tables_.entry("lubricant", lubricant));

  // Only a warm-up needs the thermal figures; elsewhere the trade's range stands in.
  const bool warms_up = [&] {
    const Node* duties = root_.find("duty");
    if (!duties) return false;
    for (const Node& duty : duties->children)
      if (duty.find("start_temperature")) return true;
    return false;
  }();
  const bool needed = warms_up && node;
  const auto thermal = [&](const char* name, auto& member) {
    if (needed || table.has(name)) {
      table.into(name, member);
      return;
    }
    table.into(name, member, tables_.trade_range(fmt::format("sump.{}", name)));
    member.key = fmt::format("sump.{}", name);
    member.unknown = true;
  };
  thermal("heat_capacity", sump.heat_capacity);
  thermal("conductance", sump.conductance);
  sump.ambient = table.number<Temperature>("ambient", defaults.find("ambient"));
  sump.other_heat = table.number<Power>("other_heat", defaults.find("other_heat"));
  if (table.has("conductance_speed")) {
    TableReader air = table.table("conductance_speed");
    sump.air = study::Sump::AirStream{
        air.number<ThermalConductance>("added"), air.number<Speed>("at"),
        air.number<double>("exponent", defaults.find("air_stream_exponent"))};
    air.done();
    if (!out_.vehicle)
      table.complain("conductance_speed", "grows with the road speed, and there is no [vehicle]",
                     "put the air stream of the machine into conductance");
  }
  read_cleanliness(table);
  if (node) table.done();
}

}  // namespace ohmdrag::input

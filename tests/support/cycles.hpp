#pragma once

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "ohmdrag/duty/cycle.hpp"
#include "ohmdrag/duty/vehicle.hpp"
#include "support/in_source.hpp"

/// The shipped speed tables for tests above the input room: phases are written here again, so that
/// a slip in data/cycles/cycles.toml does not hide itself.
namespace ohmdrag::test {

inline std::string table_text(const std::string& file) {
  std::ifstream in(test::in_source("data/cycles/") + file, std::ios::binary);
  INFO(file);
  REQUIRE(in);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

inline duty::Cycle table(const std::string& file, std::vector<duty::PhaseEnd> phases = {}) {
  return duty::cycle_from_csv(
      table_text(file),
      {.id = file, .title = file, .source = "data/cycles", .phases = std::move(phases)});
}

inline duty::PhaseEnd phase_end(std::string id, double end_s) {
  return {std::move(id), Time::from_value(end_s)};
}

inline duty::Cycle wltc_3b() {
  return table("WLTC_class3b.csv", {phase_end("low", 589), phase_end("medium", 1022),
                                    phase_end("high", 1477), phase_end("extra-high", 1800)});
}

/// A mid-size battery car of model year 2022: 4250 lb equivalent test weight, A 34.98 lbf,
/// B 0.0865 lbf/mph, C 0.0148 lbf/mph2 (US EPA, light-duty base-year vehicle data, model year 2022,
/// columns etw_lbs and target_coef_a, b, c).
inline duty::VehicleData midsize_car(double rotating_mass_factor = 1.03) {
  return {.test_mass = Mass::from_value(4250.0 * 0.45359237),
          .rotating_mass_factor = rotating_mass_factor,
          .road_load = duty::road_load_from_us(34.98, 0.0865, 0.0148)};
}

}  // namespace ohmdrag::test

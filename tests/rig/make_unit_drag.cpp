// Writes the invented log of cases/rig: the drag of a drive unit and of two partial builds, by the
// models of the parcel van's dense-ring with factors that its case does not know.
//
//   build/tests/rig/make_unit_drag > cases/rig/unit-drag.csv
//
// Truth: seal 1.6 times its model, more than the case thinks possible; ring 0.8 times, both
// bearings 1.3 times; 0.012 N m that no part explains; readings 0.4 % too high, inside a
// calibration of 0.5 % (95 %: 1 %); noise of 0.0015 N m standard deviation, read in tenths of a mN
// m.

#include <fmt/format.h>

#include <map>
#include <memory>
#include <random>

#include "ohmdrag/input/load_case.hpp"
#include "study/unit_drag.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;

namespace {

constexpr double rest_Nm = 0.012, calibration_error = 0.004, noise_Nm = 0.0015;

const std::map<std::string, double> factors{
    {"seal", 1.6}, {"grounding", 0.8}, {"drive-end", 1.3}, {"far-end", 1.3}};

}  // namespace

int main() {
  study::UnitDragLog log;
  log.question = std::make_shared<const study::Case>(
      input::load_case(test::in_source("cases/parcel-van/case.toml"), {}));
  log.variant = "dense-ring";
  log.shaft = "rotor";
  log.builds = {{"complete", {"seal", "grounding", "drive-end", "far-end"}},
                {"no-ring", {"seal", "drive-end", "far-end"}},
                {"bearings", {"drive-end", "far-end"}}};
  for (std::size_t b = 0; b < log.builds.size(); ++b)
    for (const double oil_degC : {40.0, 60.0, 80.0})
      for (const double rpm : {500.0, 1000.0, 2000.0, 3000.0, 4500.0, 6500.0, 9000.0})
        log.readings.push_back({b, from_rpm(rpm), from_celsius(oil_degC), {}});
  const study::UnitDragModel model(log);
  const auto torques_Nm = model.torques_Nm(study::Draw());
  std::mt19937_64 random(43);
  std::normal_distribution<double> noise(0.0, noise_Nm);
  fmt::print("# Invented: nobody drove this unit. Written by tests/rig/make_unit_drag.cpp.\n");
  fmt::print("build,n_rpm,oil_degC,torque_mNm\n");
  for (std::size_t i = 0; i < log.readings.size(); ++i) {
    const study::DragReading& reading = log.readings[i];
    double sum = rest_Nm;
    for (std::size_t p = 0; p < model.parts().size(); ++p)
      sum += factors.at(model.parts()[p]) * torques_Nm[i][p];
    fmt::print("{},{:.0f},{:.0f},{:.1f}\n", log.builds[reading.build].id, in_rpm(reading.speed),
               in_celsius(reading.oil), 1e3 * ((1.0 + calibration_error) * sum + noise(random)));
  }
}

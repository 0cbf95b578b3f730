#include "study/model.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::study {
namespace {

duty::RoadLoad road_load_of(const Vehicle& v, const Draw& draw) {
  if (!v.by_mass) return {draw(v.f0), draw(v.f1), draw(v.f2)};
  return duty::road_load_from_mass(draw(v.test_mass), draw(v.by_mass->rolling),
                                   draw(v.by_mass->drag_area), draw(v.by_mass->air_density));
}

std::vector<energy::HigherGear> higher_gears_of(const Shaft& shaft, const Draw& draw) {
  std::vector<energy::HigherGear> result;
  for (const Shaft::Gear& gear : shaft.higher_gears) {
    const Speed up = draw(gear.shift_up);
    result.push_back({draw(gear.ratio), up, up - gear.hysteresis});
  }
  return result;
}

}  // namespace

material::LubricantProperties lubricant_of(const Lubricant& entry, const Draw& draw) {
  return {.viscosity = material::Walther(draw(entry.viscosity_40), draw(entry.viscosity_100),
                                         draw(entry.viscosity_constant)),
          .density_15 = draw(entry.density_15),
          .conductivity = draw(entry.conductivity),
          .specific_heat = draw(entry.specific_heat),
          .permittivity = draw(entry.permittivity),
          .pressure_viscosity = draw(entry.pressure_viscosity)};
}

WorldModel::WorldModel(const Case& of, const Draw& draw, Films films)
    : world(&of),
      oil(lubricant_of(of.sump.lubricant, draw)),
      strength(film_strength(of.discharge, draw)) {
  const Temperature ambient = draw(of.sump.ambient);
  for (const Shaft& shaft : of.shafts) {
    ratio.push_back(draw(shaft.ratio));
    deviation.push_back(shaft.deviation ? draw(*shaft.deviation) : Length{});
    diameter.push_back(draw(shaft.diameter) + deviation.back());
    dry.push_back(shaft.dry_side_temperature ? draw(*shaft.dry_side_temperature) : ambient);
  }
  sump = {draw(of.sump.heat_capacity), draw(of.sump.conductance), ambient};
  other_heat = draw(of.sump.other_heat);
  if (of.sump.air)
    air = duty::AirStream{draw(of.sump.air->added), draw(of.sump.air->at),
                          draw(of.sump.air->exponent)};
  if (of.vehicle) {
    const Vehicle& v = *of.vehicle;
    vehicle = duty::VehicleData{.test_mass = draw(v.test_mass),
                                .rotating_mass_factor = draw(v.rotating_mass_factor),
                                .road_load = road_load_of(v, draw)};
    path = duty::BatteryPath{.mean_efficiency = draw(v.mean_efficiency),
                             .load_independent_share = draw(v.load_independent_share),
                             .recuperation_efficiency = draw(v.recuperation_efficiency),
                             .recuperation_share = draw(v.recuperation_share),
                             .gear_efficiency = draw(v.gear_efficiency)};
    // The fastest shaft is the rotor; what turns with the wheel lies behind the gears.
    const double fastest = *std::max_element(ratio.begin(), ratio.end());
    for (std::size_t s = 0; s < ratio.size(); ++s)
      gearing.push_back({ratio[s], v.rolling_circumference,
                         ratio[s] == fastest ? duty::ShaftSide::rotor : duty::ShaftSide::wheel_side,
                         higher_gears_of(of.shafts[s], draw)});
  }
  for (const Bearing& entry : of.bearings)
    bearings.push_back(bearing_model(*this, entry, draw, films));
  if (!of.inverter) return;
  for (const PathToFrame& entry : of.paths_to_frame)
    other_paths.emplace_back(entry, shaft_index(entry.shaft), of, oil, draw);
}

std::size_t WorldModel::shaft_index(const std::string& id) const {
  for (std::size_t i = 0; i < world->shafts.size(); ++i)
    if (world->shafts[i].id == id) return i;
  throw std::invalid_argument("no shaft is called " + id);
}

std::vector<double> WorldModel::ratios(const OperatingPoint& point, const Draw& draw) const {
  if (!point.road_speed) return ratio;
  std::vector<double> result;
  for (const energy::Gearing& shaft : gearing)
    result.push_back(shaft.ratio_in(energy::gear_at(shaft, draw(*point.road_speed))));
  return result;
}

std::vector<AngularVelocity> WorldModel::speeds(const OperatingPoint& point,
                                                const Draw& draw) const {
  std::vector<AngularVelocity> result;
  const std::vector<double> turns = ratios(point, draw);
  if (point.road_speed) {
    for (std::size_t s = 0; s < gearing.size(); ++s)
      result.push_back(
          duty::shaft_speed(draw(*point.road_speed), turns[s], gearing[s].rolling_circumference));
    return result;
  }
  const std::size_t given = shaft_index(point.shaft);
  const AngularVelocity speed = draw(*point.shaft_speed);
  for (std::size_t s = 0; s < diameter.size(); ++s)
    result.push_back(speed * (turns[s] / turns[given]));
  return result;
}

std::vector<Torque> WorldModel::torques(const OperatingPoint& point, const Draw& draw) const {
  std::vector<Torque> result(diameter.size());
  const std::vector<double> turns = ratios(point, draw);
  if (point.torque) {
    const std::size_t given = point.shaft.empty() ? 0 : shaft_index(point.shaft);
    for (std::size_t s = 0; s < result.size(); ++s)
      result[s] = draw(*point.torque) * (turns[given] / turns[s]);
  } else if (vehicle && point.road_speed) {
    const Force force = duty::road_force(vehicle->road_load, draw(*point.road_speed));
    for (std::size_t s = 0; s < result.size(); ++s)
      result[s] = duty::shaft_torque(force, turns[s], gearing[s].rolling_circumference);
  }
  return result;
}

}  // namespace ohmdrag::study

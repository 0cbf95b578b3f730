#include "study/model.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/bearing/load_distribution.hpp"
#include "ohmdrag/bearing/rating_life.hpp"

namespace ohmdrag::study {
namespace {

/// Film models from one torque of the user's table to the next; between them films are linear.
constexpr int rows_between_torques = 4;
/// Positions of the cage over which areas are averaged.
constexpr int cage_positions = 4;

bearing::BallBearing geometry_of(const BearingType& type, const Draw& draw) {
  return {.balls = static_cast<int>(std::lround(draw(type.rolling_elements))),
          .ball_diameter = draw(type.element_diameter),
          .pitch_diameter = draw(type.pitch_diameter),
          .conformity = draw(type.conformity),
          .clearance = draw(type.clearance)};
}

energy::LoadCurve load_curve(const Bearing& entry, const Draw& draw) {
  std::vector<Force> radial, axial;
  for (const auto& load : entry.radial) radial.push_back(draw(load));
  for (const auto& load : entry.axial) axial.push_back(draw(load));
  return {entry.load_torque, std::move(radial), std::move(axial)};
}

BearingModel bearing_model(const WorldModel& model, const Bearing& entry, const Draw& draw) {
  const BearingType& type = entry.type;
  BearingModel result{.shaft = model.shaft_index(entry.shaft),
                      .loads = load_curve(entry, draw),
                      .dynamic_rating = draw(type.dynamic_rating),
                      .static_rating = draw(type.static_rating),
                      .static_factor = draw(type.static_factor),
                      .roller = type.family != BearingType::Family::deep_groove_ball,
                      .friction = {.torque_factor = draw(type.torque_factor),
                                   .load_torque_factor = draw(type.load_torque_factor),
                                   .load_torque_exponent = draw(type.load_torque_exponent),
                                   .pitch_diameter = draw(type.pitch_diameter),
                                   .static_rating = draw(type.static_rating)},
                      .stated_capacitance = {},
                      .film_torque = {},
                      .films = {},
                      .geometry = {}};
  if (entry.capacitance) result.stated_capacitance = draw(*entry.capacitance);
  if (result.roller || !model.world->inverter) return result;

  for (std::size_t i = 0; i + 1 < entry.load_torque.size(); ++i)
    for (int part = 0; part < rows_between_torques; ++part)
      result.film_torque.push_back(entry.load_torque[i] +
                                   part / double(rows_between_torques) *
                                       (entry.load_torque[i + 1] - entry.load_torque[i]));
  result.film_torque.push_back(entry.load_torque.back());
  const DischargeConstants& constants = model.world->discharge;
  const bearing::BallBearing geometry = result.geometry = geometry_of(type, draw);
  const bearing::Elastic steel{draw(entry.young_modulus), draw(entry.poisson)};
  for (const Torque& torque : result.film_torque) {
    const auto loads = result.loads.at(torque);
    result.films.emplace_back(geometry, steel, model.oil.pressure_viscosity,
                              bearing::load_distribution_over_phase(geometry, steel, loads.radial,
                                                                    loads.axial, cage_positions),
                              draw(constants.film_factor), draw(constants.roughness),
                              model.oil.permittivity, draw(constants.capacitance_factor));
  }
  return result;
}

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

template <class Q>
Q lerp(Q a, Q b, double share) {
  return a + share * (b - a);
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

bearing::FilmState BearingModel::film(AngularVelocity speed, DynamicViscosity eta,
                                      double heating_factor, Torque torque) const {
  if (films.size() == 1) return films[0].at(speed, eta, heating_factor);
  // Beyond the rows the end row holds, as for the loads themselves; the budget flags it.
  const Torque within = std::clamp(torque, film_torque.front(), film_torque.back());
  const auto above = std::upper_bound(film_torque.begin() + 1, film_torque.end() - 1, within);
  const auto i = static_cast<std::size_t>(above - film_torque.begin()) - 1;
  const double share = (within - film_torque[i]) / (film_torque[i + 1] - film_torque[i]);
  const bearing::FilmState a = films[i].at(speed, eta, heating_factor);
  const bearing::FilmState b = films[i + 1].at(speed, eta, heating_factor);
  const double ratio = lerp(a.film_ratio, b.film_ratio, share);
  return {.minimum_inner = lerp(a.minimum_inner, b.minimum_inner, share),
          .central_inner = lerp(a.central_inner, b.central_inner, share),
          .minimum_outer = lerp(a.minimum_outer, b.minimum_outer, share),
          .central_outer = lerp(a.central_outer, b.central_outer, share),
          .film_ratio = ratio,
          .area_inner = lerp(a.area_inner, b.area_inner, share),
          .capacitance = lerp(a.capacitance, b.capacitance, share),
          .conducting = ratio < 1.0};
}

Force BearingModel::equivalent_load(Torque torque) const {
  const auto at = loads.at(torque);
  return roller ? bearing::cylindrical_roller_equivalent_load(at.radial)
                : bearing::deep_groove_equivalent_load(at.radial, at.axial, static_rating,
                                                       static_factor)
                      .load;
}

WorldModel::WorldModel(const Case& of, const Draw& draw)
    : world(&of), oil(lubricant_of(of.sump.lubricant, draw)) {
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
  for (const Bearing& entry : of.bearings) bearings.push_back(bearing_model(*this, entry, draw));
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

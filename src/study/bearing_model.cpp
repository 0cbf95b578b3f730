#include <algorithm>
#include <cmath>

#include "ohmdrag/bearing/load_distributions.hpp"
#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/bearing/roller_load.hpp"
#include "ohmdrag/voltage/insulation.hpp"
#include "study/model.hpp"
#include "study/most_loaded_element.hpp"

namespace ohmdrag::study {
namespace {

/// Film models from one torque of the user's table to the next; between them films are linear.
constexpr int rows_between_torques = 4;
/// Positions of the cage over which areas are averaged.
constexpr std::size_t cage_positions = 4;

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

/// The parts of a roller bearing that films ask for.
bearing::RollerBearing rollers_of(const BearingType& type, const Draw& draw) {
  // Y = 0.4 cot(alpha), ISO 281.
  const double angle = type.axial_factor ? std::atan(0.4 / draw(*type.axial_factor)) : 0.0;
  return {.rollers = static_cast<int>(std::lround(draw(type.rolling_elements))),
          .roller_diameter = draw(type.element_diameter),
          .pitch_diameter = draw(type.pitch_diameter),
          .roller_length = draw(type.roller_length.value()),
          .contact_angle = angle};
}

void insulate(BearingModel& model, const Bearing& entry, const Draw& draw) {
  if (const auto* coat = std::get_if<Coating>(&entry.insulation))
    model.in_series =
        voltage::coat_capacitance(draw(coat->coating), draw(coat->relative_permittivity),
                                  draw(coat->seat_diameter), draw(coat->seat_width));
  else if (const auto* stated = std::get_if<StatedInsulation>(&entry.insulation))
    model.in_series = draw(stated->capacitance);
  else if (const auto* ceramic = std::get_if<CeramicElements>(&entry.insulation))
    model.ceramic = {draw(ceramic->capacitance), draw(ceramic->element_capacitance)};
}

/// Torques at which films are prepared.
std::vector<Torque> film_torques(const std::vector<Torque>& rows) {
  std::vector<Torque> result;
  for (std::size_t i = 0; i + 1 < rows.size(); ++i)
    for (int part = 0; part < rows_between_torques; ++part)
      result.push_back(rows[i] + part / double(rows_between_torques) * (rows[i + 1] - rows[i]));
  result.push_back(rows.back());
  return result;
}

void add_films(BearingModel& result, const WorldModel& model, const Bearing& entry,
               const Draw& draw) {
  const BearingType& type = entry.type;
  const DischargeConstants& constants = model.world->discharge;
  bearing::FilmMaterial material{.steel = {draw(entry.young_modulus), draw(entry.poisson)},
                                 .alpha_p = model.oil.pressure_viscosity,
                                 .film_factor = draw(constants.film_factor),
                                 .roughness = draw(constants.roughness),
                                 .permittivity = model.oil.permittivity,
                                 .capacitance_factor = 0.0,
                                 .dielectric = dielectric_of(model.world->sump.lubricant)};
  result.film_torque = film_torques(entry.load_torque);
  if (result.roller) {
    const bearing::RollerBearing rollers = rollers_of(type, draw);
    result.rolling_elements = rollers.rollers;
    material.capacitance_factor = draw(constants.line_capacitance_factor);
    for (const Torque& torque : result.film_torque) {
      const auto loads = result.loads.at(torque);
      result.films.emplace_back(rollers, material,
                                bearing::roller_loads_over_phase(rollers, loads.radial, loads.axial,
                                                                 int(cage_positions)));
    }
    return;
  }
  const bearing::BallBearing geometry = geometry_of(type, draw);
  result.rolling_elements = geometry.balls;
  material.capacitance_factor = draw(constants.capacitance_factor);
  std::vector<bearing::AppliedLoad> loads;
  for (const Torque& torque : result.film_torque) {
    const auto load = result.loads.at(torque);
    loads.push_back({load.radial, load.axial});
  }
  result.films = bearing::FilmModel::under_loads(geometry, material, loads, int(cage_positions));
}

template <class Q>
Q lerp(Q a, Q b, double share) {
  return a + share * (b - a);
}

}  // namespace

BearingModel bearing_model(const WorldModel& model, const Bearing& entry, const Draw& draw,
                           Films films) {
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
                      .id = entry.id,
                      .unloaded_element = draw(model.world->discharge.unloaded_ball),
                      .rings = draw(model.world->discharge.rings),
                      .in_series = {},
                      .ceramic = {}};
  if (entry.capacitance) result.stated_capacitance = draw(*entry.capacitance);
  insulate(result, entry, draw);
  if (films == Films::prepared && model.world->inverter && (!result.roller || type.roller_length))
    add_films(result, model, entry, draw);
  return result;
}

BearingModel::FilmPlace BearingModel::film_place(Torque torque) const {
  if (films.size() == 1) return {0, 0.0};
  const Torque within = std::clamp(torque, film_torque.front(), film_torque.back());
  const auto above = std::upper_bound(film_torque.begin() + 1, film_torque.end() - 1, within);
  const auto i = static_cast<std::size_t>(above - film_torque.begin()) - 1;
  return {i, (within - film_torque[i]) / (film_torque[i + 1] - film_torque[i])};
}

bearing::FilmState BearingModel::film(AngularVelocity speed, DynamicViscosity eta,
                                      double heating_factor, Torque torque,
                                      double permittivity_share) const {
  if (films.size() == 1) return films[0].at(speed, eta, heating_factor, permittivity_share);
  const auto [i, share] = film_place(torque);
  const bearing::FilmState a = films[i].at(speed, eta, heating_factor, permittivity_share);
  const bearing::FilmState b = films[i + 1].at(speed, eta, heating_factor, permittivity_share);
  const double ratio = lerp(a.film_ratio, b.film_ratio, share);
  return {.minimum_inner = lerp(a.minimum_inner, b.minimum_inner, share),
          .central_inner = lerp(a.central_inner, b.central_inner, share),
          .minimum_outer = lerp(a.minimum_outer, b.minimum_outer, share),
          .central_outer = lerp(a.central_outer, b.central_outer, share),
          .film_ratio = ratio,
          .area_inner = lerp(a.area_inner, b.area_inner, share),
          .capacitance = lerp(a.capacitance, b.capacitance, share),
          .conducting = ratio < 1.0,
          .unloaded = std::lerp(a.unloaded, b.unloaded, share)};
}

voltage::DischargePath BearingModel::path(const bearing::FilmState& film,
                                          const FilmStrength& strength) const {
  voltage::DischargePath path{.id = id,
                              .kind = voltage::PathKind::bearing,
                              .film = film.capacitance,
                              .in_series = in_series,
                              .conducting = film.conducting,
                              .film_ratio = film.film_ratio,
                              .threshold = strength.of_bearing(film.minimum_inner, film.film_ratio),
                              .area = film.area_inner};
  if (ceramic) {
    // Each loaded element stands behind its own films. The whole is at least what they add up to.
    path.in_series = (rolling_elements - film.unloaded) * ceramic->element;
    path.beside = std::max(Capacitance{}, ceramic->whole - voltage::capacitance(path));
    return path;
  }
  path.film = stated_capacitance ? *stated_capacitance
                                 : film.capacitance + film.unloaded * unloaded_element + rings;
  return path;
}

Force BearingModel::equivalent_load(Torque torque) const {
  const auto at = loads.at(torque);
  return roller ? bearing::cylindrical_roller_equivalent_load(at.radial)
                : bearing::deep_groove_equivalent_load(at.radial, at.axial, static_rating,
                                                       static_factor)
                      .load;
}

Force most_loaded_element(const BearingModel& model, const Bearing& entry, const Draw& draw,
                          Torque torque) {
  const energy::BearingLoads loads = model.loads.at(torque);
  Force most{};
  if (model.roller) {
    for (const auto& phase : bearing::roller_loads_over_phase(
             rollers_of(entry.type, draw), loads.radial, loads.axial, int(cage_positions)))
      most = std::max(most, *std::ranges::max_element(phase));
    return most;
  }
  const bearing::Elastic steel{draw(entry.young_modulus), draw(entry.poisson)};
  for (const bearing::LoadDistribution& phase : bearing::load_distribution_over_phase(
           geometry_of(entry.type, draw), steel, loads.radial, loads.axial, int(cage_positions)))
    most = std::max(most, phase.q_max);
  return most;
}

}  // namespace ohmdrag::study

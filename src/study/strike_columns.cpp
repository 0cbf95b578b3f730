#include <cmath>
#include <numbers>

#include "study/electric.hpp"
#include "study/strike_lanes.hpp"

namespace ohmdrag::study {

using numerics::LaneRows;

namespace {

StrikeColumns::Bearing bearing_column(const BearingModel& model, const FilmColumns& films,
                                      const FilmColumns::Place& places, std::size_t kind) {
  const bearing::FilmModel& any = model.films.front();
  const AngularVelocity one = AngularVelocity::from_value(1.0);
  const double u_m = any.entrainment(one).value();
  const auto unit_eta = DynamicViscosity::from_value(1.0 / u_m);  // eta u = 1 Pa m
  const bearing::FilmState state = any.at(one, unit_eta);
  StrikeColumns::Bearing result;
  result.kind = kind;
  result.heating = std::pow(u_m, 2.0 * bearing::inlet_heating_exponent);
  result.per_roughness = state.film_ratio / state.minimum_inner.value();
  const double of_minimum = std::pow(u_m, any.minimum_exponent());
  const double of_capacitance = std::pow(u_m, -any.central_exponent());
  UnitFilms units;
  const auto add = [&](const bearing::FilmModel& film) {
    const bearing::FilmState unit = film.at(one, unit_eta);
    units.minimum_m.push_back(of_minimum * unit.minimum_inner.value());
    units.area_m2.push_back(unit.area_inner.value());
    units.capacitance_F.push_back(of_capacitance * unit.capacitance.value());
    units.unloaded.push_back(unit.unloaded);
  };
  for (const bearing::FilmModel& film : model.films) add(film);
  add(model.films.back());
  find_unit_films(units, places, films.minimum[kind], films.capacitance[kind],
                  numerics::widest_lanes(), result);
  return result;
}

std::array<LaneRows, 3> edge_columns(const SourceModel& source, const FilmColumns& films) {
  std::array<LaneRows, 3> result;
  if (!source.measured_edges().empty()) {
    const voltage::EdgeRates rates = source.rates(AngularVelocity::from_value(1.0));
    result.fill(LaneRows(films.modulation.rows()));
    result[0] = LaneRows(films.modulation.rows(), rates.one_leg.value());
    return result;
  }
  const voltage::InverterSource& inverter = source.source();
  const auto spacing = [&](Time ramp) {
    return 4.0 * double(ramp * inverter.carrier) / std::numbers::sqrt3;
  };
  find_edges(films.modulation, {spacing(inverter.rise), spacing(inverter.fall)},
             inverter.carrier.value(), numerics::widest_lanes(), result);
  return result;
}

}  // namespace

StrikeColumns strike_columns(const WorldModel& model, const ElectricModel& electric,
                             const std::vector<energy::Stretch>& stretches, const OilColumns& oil,
                             std::shared_ptr<const FilmColumns> films) {
  StrikeColumns result;
  result.films = films ? std::move(films)
                       : std::make_shared<const FilmColumns>(film_columns(
                             model, electric.shaft(), electric.source(), stretches, oil));
  result.edges_per_s = edge_columns(electric.source(), *result.films);
  for (const BearingModel& bearing : model.bearings)
    if (bearing.shaft == electric.shaft() && !bearing.films.empty())
      result.bearings.push_back(bearing_column(bearing, *result.films,
                                               result.films->places[result.bearings.size()],
                                               oil.kind_of(bearing.films.front())));
  return result;
}

}  // namespace ohmdrag::study

#include <cmath>
#include <numbers>

#include "ohmdrag/numerics/lane_math.hpp"
#include "ohmdrag/voltage/strike_kernel.hpp"
#include "ohmdrag/voltage/verdict.hpp"
#include "study/electric.hpp"
#include "study/stress_lanes.hpp"

namespace ohmdrag::study {

using numerics::LaneMath;
using numerics::LaneRows;
using numerics::lanes;
using numerics::LaneWidth;

void find_edges(const LaneRows& modulation, std::array<double, 2> spacing, double carrier_Hz,
                LaneWidth width, std::array<LaneRows, 3>& edges_per_s) {
  for (LaneRows& rows : edges_per_s) rows = LaneRows(modulation.rows());
  const double share = spacing[0] == spacing[1] ? 1.0 : 0.5;
  const std::size_t ramps = spacing[0] == spacing[1] ? 1 : 2;
  numerics::run_at_width(width, [&] {
    const double edges_Hz = share * carrier_Hz;
    for (std::size_t at = 0; at < modulation.rows(); ++at) {
      const double* const index = modulation[at];
      double *const one = edges_per_s[0][at], *const two = edges_per_s[1][at],
                    *const three = edges_per_s[2][at];
      for (std::size_t ramp = 0; ramp < ramps; ++ramp) {
        const double of_ramp = spacing[ramp];
#pragma GCC ivdep
        for (std::size_t i = 0; i < lanes; ++i) {
          const auto edges = voltage::edges_per_period<LaneMath>(
              of_ramp, index[i], index[i] < voltage::all_legs_below);
          one[i] += edges_Hz * edges.one_leg;
          two[i] += edges_Hz * edges.two_legs;
          three[i] += edges_Hz * edges.three_legs;
        }
      }
    }
  });
}

void find_unit_films(const UnitFilms& models, const FilmColumns::Place& places,
                     const LaneRows& minimum, const LaneRows& capacitance, LaneWidth width,
                     StrikeColumns::Bearing& bearing) {
  const std::size_t blocks = minimum.rows();
  for (LaneRows* rows :
       {&bearing.minimum_m, &bearing.capacitance_F, &bearing.area_m2, &bearing.unloaded})
    *rows = LaneRows(blocks);
  numerics::run_at_width(width, [&] {
    const auto between = [&](const double* of_models, std::size_t at, const double* factor,
                             double* found) {
      const int* const first = places.first.data() + at * lanes;
      const double* const share = places.share[at];
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) {
        const double from = of_models[first[i]], to = of_models[first[i] + 1];
        found[i] = (from + share[i] * (to - from)) * factor[i];
      }
    };
    LaneRow one;
    for (double& value : one.of) value = 1.0;
    for (std::size_t at = 0; at < blocks; ++at) {
      between(models.minimum_m.data(), at, minimum[at], bearing.minimum_m[at]);
      between(models.capacitance_F.data(), at, capacitance[at], bearing.capacitance_F[at]);
      between(models.area_m2.data(), at, one.of, bearing.area_m2[at]);
      between(models.unloaded.data(), at, one.of, bearing.unloaded[at]);
    }
  });
}

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
  result.among_speeds =
      column_places(electric.speeds().rad_s(), result.films->speed_rad_s, numerics::widest_lanes());
  for (const BearingModel& bearing : model.bearings)
    if (bearing.shaft == electric.shaft() && !bearing.films.empty())
      result.bearings.push_back(bearing_column(bearing, *result.films,
                                               result.films->places[result.bearings.size()],
                                               oil.kind_of(bearing.films.front())));
  return result;
}

}  // namespace ohmdrag::study

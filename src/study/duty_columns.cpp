#include "study/duty_columns.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/material/permittivity.hpp"
#include "study/electric.hpp"

namespace ohmdrag::study {

using numerics::LaneRows;
using numerics::lanes;

namespace {

constexpr double coldest_K = 233.15, hottest_K = 473.15;
constexpr std::size_t oil_cells = 120;

FilmPowers powers_of(const bearing::FilmModel& film) {
  return {film.minimum_exponent(), film.central_exponent()};
}

/// The cubic through four values at 0, 1, 2 and 3, by its rising coefficients.
std::array<double, OilColumns::powers> cubic_through(const std::array<double, 4>& v) {
  const double first = v[1] - v[0];
  const double second = v[2] - 2.0 * v[1] + v[0];
  const double third = v[3] - 3.0 * (v[2] - v[1]) - v[0];
  return {v[0], first - 0.5 * second + third / 3.0, 0.5 * (second - third), third / 6.0};
}

}  // namespace

OilColumns::OilColumns(const WorldModel& model) : grid_(coldest_K, hottest_K, oil_cells) {
  for (const BearingModel& bearing : model.bearings)
    for (const bearing::FilmModel& film : bearing.films) {
      if (kind_of(film) < used_) continue;
      if (used_ == kinds_.size()) throw std::logic_error("films: more kinds than are held");
      kinds_[used_++] = powers_of(film);
    }
  const material::LubricantProperties& oil = model.oil;
  std::vector<std::array<double, figures>> values(grid_.nodes());
  for (std::size_t node = 0; node < values.size(); ++node) {
    const Temperature t = Temperature::from_value(grid_.node(node));
    const auto point = oil.viscosity.point(t.value());
    const double nu_m2_s = 1e-6 * point.viscosity_mm2_s;
    const double eta_Pa_s = nu_m2_s * material::oil_density(oil.density_15, t).value();
    std::array<double, figures>& of = values[node];
    of = {nu_m2_s, std::log(nu_m2_s),
          std::pow(eta_Pa_s * point.log_slope_per_K / oil.conductivity.value(),
                   bearing::inlet_heating_exponent)};
    if (used_ == 0) continue;
    const double permittivity = material::permittivity_share(oil, t);
    const double log_eta = std::log(eta_Pa_s);
    for (std::size_t k = 0; k < used_; ++k) {
      of[minimum_of(k)] = std::exp(kinds_[k].minimum * log_eta);
      of[capacitance_of(k)] = permittivity * std::exp(-kinds_[k].central * log_eta);
    }
  }
  coefficients_.reserve((grid_.nodes() - 3) * figures * powers);
  for (std::size_t first = 0; first + 3 < values.size(); ++first)
    for (std::size_t f = 0; f < figures; ++f) {
      const auto cubic = cubic_through(
          {values[first][f], values[first + 1][f], values[first + 2][f], values[first + 3][f]});
      coefficients_.insert(coefficients_.end(), cubic.begin(), cubic.end());
    }
}

std::size_t OilColumns::kind_of(const bearing::FilmModel& film) const {
  return static_cast<std::size_t>(
      std::find(kinds_.begin(), kinds_.begin() + std::ptrdiff_t(used_), powers_of(film)) -
      kinds_.begin());
}

OilColumns::Pieces OilColumns::pieces() const {
  return {.from_K = coldest_K,
          .to_K = hottest_K,
          .per_K = double(oil_cells) / (hottest_K - coldest_K),
          .last = double(oil_cells - 3),
          .coefficients = coefficients_.data()};
}

double OilColumns::at(double oil_K, Figure figure) const {
  const Pieces of = pieces();
  const double x = (oil_K - of.from_K) * of.per_K;
  const double piece = std::clamp(std::floor(x) - 1.0, 0.0, of.last);
  const double* const c =
      of.coefficients + (static_cast<std::size_t>(piece) * figures + figure) * powers;
  const double along = x - piece;
  return c[0] + along * (c[1] + along * (c[2] + along * c[3]));
}

FilmColumns film_columns(const WorldModel& model, std::size_t shaft, const SourceModel& source,
                         const std::vector<energy::Stretch>& stretches, const OilColumns& oil) {
  const std::size_t blocks = blocks_of(stretches.size());
  FilmColumns result;
  result.kinds = oil.kinds();
  result.dt_s = LaneRows(blocks);
  for (LaneRows* rows :
       {&result.speed_rad_s, &result.heating, &result.minimum[0], &result.minimum[1],
        &result.capacitance[0], &result.capacitance[1], &result.modulation, &result.verdict_legs})
    *rows = LaneRows(blocks, 1.0);
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    const energy::Stretch& stretch = stretches[i];
    const AngularVelocity speed = stretch.speed[shaft];
    const std::size_t block = i / lanes, lane = i % lanes;
    if (speed == AngularVelocity{} || stretch.parked) continue;
    const double speed_rad_s = std::abs(speed.value());
    result.dt_s[block][lane] = stretch.dt.value();
    result.speed_rad_s[block][lane] = speed_rad_s;
    const double log_speed = std::log(speed_rad_s);
    result.heating[block][lane] = std::exp(2.0 * bearing::inlet_heating_exponent * log_speed);
    for (std::size_t k = 0; k < most_film_kinds; ++k) {
      result.minimum[k][block][lane] = std::exp(result.kinds[k].minimum * log_speed);
      result.capacitance[k][block][lane] = std::exp(-result.kinds[k].central * log_speed);
    }
    const double modulation = source.modulation(speed);
    result.modulation[block][lane] = modulation;
    result.verdict_legs[block][lane] = double(source.verdict_legs(modulation));
  }
  for (const BearingModel& bearing : model.bearings) {
    if (bearing.shaft != shaft || bearing.films.empty()) continue;
    FilmColumns::Place place{std::vector<int>(blocks * lanes, 0), LaneRows(blocks)};
    for (std::size_t i = 0; i < stretches.size(); ++i) {
      const auto [first, share] = bearing.film_place(stretches[i].torque[shaft]);
      place.first[i] = static_cast<int>(first);
      place.share[i / lanes][i % lanes] = share;
    }
    result.places.push_back(std::move(place));
  }
  return result;
}

}  // namespace ohmdrag::study

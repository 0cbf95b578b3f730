#include "study/duty_columns.hpp"

#include <algorithm>
#include <cmath>

#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/material/permittivity.hpp"

namespace ohmdrag::study {
namespace {

constexpr double coldest_K = 233.15, hottest_K = 473.15;
constexpr std::size_t oil_cells = 120;

}  // namespace

OilColumns::OilColumns(const WorldModel& model) : grid_(coldest_K, hottest_K, oil_cells) {
  const auto use = [&](double exponent) {
    if (index_of(exponent) < used_) return;
    if (used_ == exponents_.size()) throw std::logic_error("films: more powers than are held");
    exponents_[used_++] = exponent;
  };
  for (const BearingModel& bearing : model.bearings)
    for (const bearing::FilmModel& film : bearing.films) {
      use(film.minimum_exponent());
      use(film.central_exponent());
    }
  const material::LubricantProperties& oil = model.oil;
  values_.reserve(grid_.nodes() * figures);
  for (std::size_t node = 0; node < grid_.nodes(); ++node) {
    const Temperature t = Temperature::from_value(grid_.node(node));
    const auto point = oil.viscosity.point(t.value());
    const double nu_m2_s = 1e-6 * point.viscosity_mm2_s;
    const double eta_Pa_s = nu_m2_s * material::oil_density(oil.density_15, t).value();
    values_.insert(
        values_.end(),
        {nu_m2_s, std::log(nu_m2_s), used_ > 0 ? material::permittivity_share(oil, t) : 1.0,
         std::pow(eta_Pa_s * point.log_slope_per_K / oil.conductivity.value(),
                  bearing::inlet_heating_exponent)});
    for (std::size_t e = 0; e < exponents_.size(); ++e)
      values_.push_back(e < used_ ? std::pow(eta_Pa_s, exponents_[e]) : 0.0);
  }
}

std::size_t OilColumns::index_of(double exponent) const {
  return static_cast<std::size_t>(
      std::find(exponents_.begin(), exponents_.begin() + std::ptrdiff_t(used_), exponent) -
      exponents_.begin());
}

OilColumns::Oil OilColumns::at(double oil_K) const {
  const numerics::CubicPlace place = grid_.place(oil_K);
  std::array<double, figures> v;
  for (std::size_t k = 0; k < figures; ++k) v[k] = place.of(values_.data() + k, figures);
  return {v[0], v[1], v[2], v[3], {v[4], v[5], v[6], v[7]}};
}

FilmColumns film_columns(const WorldModel& model, std::size_t shaft,
                         const std::vector<energy::Stretch>& stretches, const OilColumns& oil) {
  FilmColumns result;
  result.exponents = oil.exponents();
  result.rows.reserve(stretches.size());
  for (const energy::Stretch& stretch : stretches) {
    FilmColumns::Row row{std::abs(stretch.speed[shaft].value()), 0.0, {}};
    row.heating = std::pow(row.speed_rad_s, 2.0 * bearing::inlet_heating_exponent);
    for (std::size_t e = 0; e < row.film.size(); ++e)
      if (result.exponents[e] > 0.0) row.film[e] = std::pow(row.speed_rad_s, result.exponents[e]);
    result.rows.push_back(row);
  }
  for (const BearingModel& bearing : model.bearings) {
    if (bearing.shaft != shaft || bearing.films.empty()) continue;
    std::vector<FilmColumns::Place>& places = result.places.emplace_back();
    places.reserve(stretches.size());
    for (const energy::Stretch& stretch : stretches) {
      const auto [first, share] = bearing.film_place(stretch.torque[shaft]);
      places.push_back({first, share});
    }
  }
  return result;
}

}  // namespace ohmdrag::study

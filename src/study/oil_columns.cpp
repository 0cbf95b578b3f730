#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/material/oil_kernel.hpp"
#include "ohmdrag/material/permittivity.hpp"
#include "ohmdrag/material/permittivity_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"
#include "ohmdrag/numerics/lane_width.hpp"
#include "study/duty_columns.hpp"

namespace ohmdrag::study {

using numerics::LaneMath;

namespace {

FilmPowers powers_of(const bearing::FilmModel& film) {
  return {film.minimum_exponent(), film.central_exponent()};
}

}  // namespace

OilColumns::OilColumns(const WorldModel& model) : coefficients_(figures * 4 * most_nodes) {
  for (const BearingModel& bearing : model.bearings)
    for (const bearing::FilmModel& film : bearing.films) {
      if (kind_of(film) < used_) continue;
      if (used_ == kinds_.size()) throw std::logic_error("films: more kinds than are held");
      kinds_[used_++] = powers_of(film);
    }
  const material::LubricantProperties& oil = model.oil;
  // The cold is where it is densest and so most polar: what is defined there is so everywhere.
  if (used_ > 0) material::permittivity_share(oil, Temperature::from_value(coldest_K));
  const material::OilConstants constants = material::oil_constants(oil);
  const double log_mm2_s = std::log(1e-6), log_density = std::log(constants.density_kg_m3);
  const double log_conductivity = std::log(oil.conductivity.value());
  const double permittivity = oil.permittivity;
  const FilmKinds kinds = kinds_;
  const std::size_t used = used_;
  constexpr double step_K = (hottest_K - coldest_K) / double(nodes - 1);
  std::vector<double> temperatures_K(most_nodes, hottest_K), values(figures * most_nodes);
  for (std::size_t i = 0; i < nodes; ++i) temperatures_K[i] = coldest_K + step_K * double(i);
  const double* const at_K = temperatures_K.data();
  double* const all = values.data();
  double* const coefficients = coefficients_.data();
  numerics::run_at_width(numerics::widest_lanes(), [&] {
#pragma GCC ivdep
    for (std::size_t i = 0; i < most_nodes; ++i) {
      const double T_K = at_K[i];
      const auto point =
          material::walther_point<LaneMath>(constants.log_k, constants.b, constants.constant, T_K);
      const double log_nu = log_mm2_s + LaneMath::log(point.viscosity_mm2_s);
      const double log_eta =
          log_nu + log_density - material::oil_swelling(constants.alpha_per_K, T_K).log_ratio;
      all[viscosity_m2_s * most_nodes + i] = 1e-6 * point.viscosity_mm2_s;
      all[log_viscosity * most_nodes + i] = log_nu;
      all[heating * most_nodes + i] =
          LaneMath::exp(bearing::inlet_heating_exponent *
                        (log_eta + LaneMath::log(point.log_slope_per_K) - log_conductivity));
    }
    for (std::size_t k = 0; k < used; ++k) {
      const double of_minimum = kinds[k].minimum, of_central = kinds[k].central;
      double* const minimum = all + minimum_of(k) * most_nodes;
      double* const charge = all + capacitance_of(k) * most_nodes;
#pragma GCC ivdep
      for (std::size_t i = 0; i < most_nodes; ++i) {
        const double T_K = at_K[i];
        const auto swelling = material::oil_swelling(constants.alpha_per_K, T_K);
        const double log_eta =
            all[log_viscosity * most_nodes + i] + log_density - swelling.log_ratio;
        const double share = material::permittivity_of_polarisation(
            material::polarisation_at_density(permittivity, LaneMath::exp(-swelling.log_ratio)));
        minimum[i] = LaneMath::exp(of_minimum * log_eta);
        charge[i] = share / permittivity * LaneMath::exp(-of_central * log_eta);
      }
    }
    for (std::size_t f = 0; f < figures; ++f) {
      const double* const v = all + f * most_nodes;
      double* const c = coefficients + f * 4 * most_nodes;
      // The cubic through the values at 0, 1, 2 and 3.
#pragma GCC ivdep
      for (std::size_t i = 0; i + 3 < nodes; ++i) {
        const double first = v[i + 1] - v[i];
        const double second = v[i + 2] - 2.0 * v[i + 1] + v[i];
        const double third = v[i + 3] - 3.0 * (v[i + 2] - v[i + 1]) - v[i];
        c[i] = v[i];
        c[most_nodes + i] = first - 0.5 * second + third * (1.0 / 3.0);
        c[2 * most_nodes + i] = 0.5 * (second - third);
        c[3 * most_nodes + i] = third * (1.0 / 6.0);
      }
    }
  });
}

std::size_t OilColumns::kind_of(const bearing::FilmModel& film) const {
  return static_cast<std::size_t>(
      std::find(kinds_.begin(), kinds_.begin() + std::ptrdiff_t(used_), powers_of(film)) -
      kinds_.begin());
}

OilColumns::Pieces OilColumns::pieces() const {
  return {.from_K = coldest_K,
          .per_K = double(nodes - 1) / (hottest_K - coldest_K),
          .last = double(nodes - 4),
          .coefficients = coefficients_.data()};
}

double OilColumns::at(double oil_K, Figure figure) const {
  const Pieces of = pieces();
  const double x = (oil_K - of.from_K) * of.per_K;
  const double piece = std::clamp(std::floor(x) - 1.0, 0.0, of.last);
  return of.cubic(figure, piece).at(x - piece);
}

}  // namespace ohmdrag::study

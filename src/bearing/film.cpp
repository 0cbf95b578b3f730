#include "ohmdrag/bearing/film.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::bearing {

namespace {

template <class Contact>
void require_contact(const Contact& contact, DynamicViscosity eta, Speed u) {
  if (!(contact.rolling_radius > Length{} && contact.reduced_modulus > Pressure{} &&
        contact.alpha_p > PerPressure{} && contact.load > Force{}))
    throw std::invalid_argument(
        "oil film: radius, modulus, pressure-viscosity coefficient and load must be positive");
  if (!(eta > DynamicViscosity{}))
    throw std::invalid_argument("oil film: viscosity must be positive");
  if (!(u >= Speed{})) throw std::invalid_argument("oil film: speed must not be negative");
}

// The dimensionless groups of elastohydrodynamic lubrication.
struct Groups {
  double speed, material, load;
};

Groups groups(const PointContact& c, DynamicViscosity eta, Speed u) {
  require_contact(c, eta, u);
  return {.speed = eta * u / (c.reduced_modulus * c.rolling_radius),
          .material = c.alpha_p * c.reduced_modulus,
          .load = c.load / (c.reduced_modulus * c.rolling_radius * c.rolling_radius)};
}

Groups groups(const LineContact& c, DynamicViscosity eta, Speed u) {
  require_contact(c, eta, u);
  if (!(c.line > Length{})) throw std::invalid_argument("oil film: line must be positive");
  return {.speed = eta * u / (c.reduced_modulus * c.rolling_radius),
          .material = c.alpha_p * c.reduced_modulus,
          .load = c.load / (c.reduced_modulus * c.rolling_radius * c.line)};
}

// Vacuum permittivity, CODATA 2018; a constant of nature, not of a model.
constexpr double vacuum_permittivity_F_per_m = 8.8541878128e-12;

constexpr double minimum_exponent = 0.68;
constexpr double central_exponent = 0.67;

// One ring's contact under 1 N at eta u = 1 Pa m. All of it scales with powers of the load.
struct UnitFilm {
  double minimum_m, central_m, area_m2;
};
constexpr double minimum_load_exponent = -0.073;
constexpr double central_load_exponent = -0.067;
constexpr double area_load_exponent = 2.0 / 3.0;

UnitFilm unit_film(const ContactRadii& radii, Pressure modulus, PerPressure alpha_p) {
  const Ellipticity shape = ellipticity(radii.transverse / radii.rolling);
  const PointContact contact{.rolling_radius = radii.rolling,
                             .ellipticity = shape.ratio,
                             .reduced_modulus = modulus,
                             .alpha_p = alpha_p,
                             .load = Force::from_value(1.0)};
  const auto unit_viscosity = DynamicViscosity::from_value(1.0);
  const auto unit_speed = Speed::from_value(1.0);
  return {.minimum_m = minimum_film(contact, unit_viscosity, unit_speed).value(),
          .central_m = central_film(contact, unit_viscosity, unit_speed).value(),
          .area_m2 = contact_ellipse(radii, shape, modulus, contact.load).area.value()};
}

}  // namespace

Length minimum_film(const PointContact& contact, DynamicViscosity eta, Speed u) {
  const auto [speed, material, load] = groups(contact, eta, u);
  return 3.63 * contact.rolling_radius * std::pow(speed, minimum_exponent) *
         std::pow(material, 0.49) * std::pow(load, minimum_load_exponent) *
         (-std::expm1(-0.68 * contact.ellipticity));
}

Length central_film(const PointContact& contact, DynamicViscosity eta, Speed u) {
  const auto [speed, material, load] = groups(contact, eta, u);
  return 2.69 * contact.rolling_radius * std::pow(speed, central_exponent) *
         std::pow(material, 0.53) * std::pow(load, central_load_exponent) *
         (1.0 - 0.61 * std::exp(-0.73 * contact.ellipticity));
}

Length minimum_film(const LineContact& contact, DynamicViscosity eta, Speed u) {
  const auto [speed, material, load] = groups(contact, eta, u);
  return 2.65 * contact.rolling_radius * std::pow(speed, 0.70) * std::pow(material, 0.54) *
         std::pow(load, -0.13);
}

Length central_film(const LineContact& contact, DynamicViscosity eta, Speed u) {
  const auto [speed, material, load] = groups(contact, eta, u);
  return 3.06 * contact.rolling_radius * std::pow(speed, 0.69) * std::pow(material, 0.56) *
         std::pow(load, -0.10);
}

double film_ratio(Length minimum, Length roughness) {
  if (!(roughness > Length{}))
    throw std::invalid_argument("film ratio: roughness must be positive");
  return minimum / roughness;
}

Length combined_roughness(Length one, Length other) {
  return Length::from_value(std::hypot(one.value(), other.value()));
}

double inlet_heating_factor(DynamicViscosity eta, Speed u, double viscosity_slope_per_K,
                            ThermalConductivity oil_conductivity) {
  if (!(oil_conductivity > ThermalConductivity{}))
    throw std::invalid_argument("inlet heating: conductivity of the oil must be positive");
  if (!(viscosity_slope_per_K >= 0.0))
    throw std::invalid_argument("inlet heating: viscosity must not rise with temperature");
  const double loading =
      eta.value() * u.value() * u.value() * viscosity_slope_per_K / oil_conductivity.value();
  return 3.94 / (3.94 + std::pow(loading, 0.62));
}

FilmModel::FilmModel(const BallBearing& bearing, const Elastic& steel, PerPressure alpha_p,
                     const LoadDistribution& loads, double film_factor, Length roughness,
                     double permittivity, double capacitance_factor)
    : FilmModel(bearing, steel, alpha_p, std::span(&loads, 1), film_factor, roughness, permittivity,
                capacitance_factor) {}

FilmModel::FilmModel(const BallBearing& bearing, const Elastic& steel, PerPressure alpha_p,
                     std::span<const LoadDistribution> phases, double film_factor, Length roughness,
                     double permittivity, double capacitance_factor)
    : roughness_m_(roughness.value()),
      entrainment_m_(entrainment_speed(bearing, AngularVelocity::from_value(1.0)).value()) {
  require_valid(bearing);
  if (phases.empty()) throw std::invalid_argument("film model: no load distribution");
  if (!(film_factor > 0.0 && roughness_m_ > 0.0 && permittivity > 0.0 && capacitance_factor > 0.0))
    throw std::invalid_argument(
        "film model: film factor, roughness, permittivity and capacitance factor must be positive");

  const Pressure modulus = reduced_modulus(steel, steel);
  const double angle = bearing.contact_angle;
  const UnitFilm inner = unit_film(inner_radii(bearing, angle), modulus, alpha_p);
  const UnitFilm outer = unit_film(outer_radii(bearing, angle), modulus, alpha_p);

  double worst_N = 0.0;
  double area_sum = 0.0, area_per_film_sum = 0.0;  // over the balls, one ball under 1 N counts 1
  for (const LoadDistribution& loads : phases) {
    for (const BallLoad& ball : loads.balls) {
      const double load_N = ball.load.value();
      if (!(load_N > 0.0)) continue;
      worst_N = std::max(worst_N, load_N);
      const double area = std::pow(load_N, area_load_exponent);
      area_sum += area;
      area_per_film_sum += area * std::pow(load_N, -central_load_exponent);
    }
  }
  if (!(worst_N > 0.0))
    throw std::invalid_argument("film model: no ball of the load distribution carries load");

  const double minimum = film_factor * std::pow(worst_N, minimum_load_exponent);
  const double central = film_factor * std::pow(worst_N, central_load_exponent);
  minimum_inner_m_ = minimum * inner.minimum_m;
  minimum_outer_m_ = minimum * outer.minimum_m;
  central_inner_m_ = central * inner.central_m;
  central_outer_m_ = central * outer.central_m;

  const auto count = static_cast<double>(phases.size());
  area_inner_m2_ = inner.area_m2 * area_sum / count;
  // Both films of a ball in series, the balls in parallel; a thinner film has more capacitance.
  const double area_per_film_m =
      area_per_film_sum / (inner.central_m / inner.area_m2 + outer.central_m / outer.area_m2);
  capacitance_F_ = capacitance_factor * vacuum_permittivity_F_per_m * permittivity *
                   area_per_film_m / (film_factor * count);
}

FilmState FilmModel::at(AngularVelocity omega, DynamicViscosity eta, double heating_factor) const {
  if (!(eta > DynamicViscosity{}))
    throw std::invalid_argument("oil film: viscosity must be positive");
  if (!(heating_factor > 0.0 && heating_factor <= 1.0))
    throw std::invalid_argument("oil film: heating factor must be in (0, 1]");
  FilmState state{.minimum_inner = Length{},
                  .central_inner = Length{},
                  .minimum_outer = Length{},
                  .central_outer = Length{},
                  .film_ratio = 0.0,
                  .area_inner = Area::from_value(area_inner_m2_),
                  .capacitance = Capacitance{},
                  .conducting = true};
  const double speed_Pa_m = eta.value() * entrainment_m_ * std::abs(omega.value());  // eta u
  if (!(speed_Pa_m > 0.0)) return state;

  // Two exponentials of one logarithm: half the time of two powers.
  const double log_speed = std::log(speed_Pa_m);
  const double minimum = heating_factor * std::exp(minimum_exponent * log_speed);
  const double central = heating_factor * std::exp(central_exponent * log_speed);
  state.minimum_inner = Length::from_value(minimum * minimum_inner_m_);
  state.minimum_outer = Length::from_value(minimum * minimum_outer_m_);
  state.central_inner = Length::from_value(central * central_inner_m_);
  state.central_outer = Length::from_value(central * central_outer_m_);
  state.film_ratio = minimum * minimum_inner_m_ / roughness_m_;
  state.capacitance = Capacitance::from_value(capacitance_F_ / central);
  state.conducting = state.film_ratio < 1.0;
  return state;
}

}  // namespace ohmdrag::bearing

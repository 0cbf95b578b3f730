#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "bearing/ball_loads.hpp"
#include "bearing/film_sums.hpp"
#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/material/permittivity.hpp"

namespace ohmdrag::bearing {

/// The contacts of one ring under 1 N at eta u = 1 Pa m, and the powers by which they follow load
/// and eta u.
struct FilmModel::Contacts {
  double minimum_m, central_m, area_m2;
  struct Powers {
    double minimum_load, central_load, area_load, minimum_speed, central_speed;
  } powers;

  static Contacts of_balls(const ContactRadii& radii, Pressure modulus, PerPressure alpha_p) {
    const Ellipticity shape = ellipticity(radii.transverse / radii.rolling);
    const PointContact contact{.rolling_radius = radii.rolling,
                               .ellipticity = shape.ratio,
                               .reduced_modulus = modulus,
                               .alpha_p = alpha_p,
                               .load = unit_load};
    return {.minimum_m = minimum_film(contact, unit_viscosity, unit_speed).value(),
            .central_m = central_film(contact, unit_viscosity, unit_speed).value(),
            .area_m2 = contact_ellipse(radii, shape, modulus, unit_load).area.value(),
            .powers = {-0.073, -0.067, 2.0 / 3.0, 0.68, 0.67}};
  }

  static Contacts of_rollers(Length rolling_radius, Length line, Pressure modulus,
                             PerPressure alpha_p) {
    const LineContact contact{.rolling_radius = rolling_radius,
                              .line = line,
                              .reduced_modulus = modulus,
                              .alpha_p = alpha_p,
                              .load = unit_load};
    const ContactStrip strip = contact_strip(rolling_radius, line, modulus, unit_load);
    return {.minimum_m = minimum_film(contact, unit_viscosity, unit_speed).value(),
            .central_m = central_film(contact, unit_viscosity, unit_speed).value(),
            .area_m2 = (2.0 * strip.half_width * line).value(),
            .powers = {-0.13, -0.10, 0.5, 0.70, 0.69}};
  }

 private:
  static inline const Force unit_load = Force::from_value(1.0);
  static inline const DynamicViscosity unit_viscosity = DynamicViscosity::from_value(1.0);
  static inline const Speed unit_speed = Speed::from_value(1.0);
};

/// What of a bearing and its oil hangs on no load.
struct FilmModel::Rings {
  Rings(const BallBearing& bearing, const FilmMaterial& material)
      : entrainment_m(entrainment_speed(bearing, unit_turning).value()) {
    require_valid(bearing);
    const Pressure modulus = reduced_modulus(material.steel, material.steel);
    const double angle = bearing.contact_angle;
    inner = Contacts::of_balls(inner_radii(bearing, angle), modulus, material.alpha_p);
    outer = Contacts::of_balls(outer_radii(bearing, angle), modulus, material.alpha_p);
  }
  Rings(const RollerBearing& bearing, const FilmMaterial& material)
      : entrainment_m(entrainment_speed(bearing, unit_turning).value()) {
    require_valid(bearing);
    const Pressure modulus = reduced_modulus(material.steel, material.steel);
    const Length line = bearing.roller_length;
    inner = Contacts::of_rollers(inner_radius(bearing), line, modulus, material.alpha_p);
    outer = Contacts::of_rollers(outer_radius(bearing), line, modulus, material.alpha_p);
  }

  double entrainment_m;  ///< u/omega
  Contacts inner, outer;

 private:
  static inline const AngularVelocity unit_turning = AngularVelocity::from_value(1.0);
};

namespace {

std::vector<double> all_loads_N(std::span<const LoadDistribution> phases) {
  std::vector<double> loads_N;
  for (const LoadDistribution& phase : phases)
    for (const BallLoad& ball : phase.balls) loads_N.push_back(ball.load.value());
  return loads_N;
}

std::vector<double> all_loads_N(std::span<const std::vector<Force>> phases) {
  std::vector<double> loads_N;
  for (const std::vector<Force>& phase : phases)
    for (const Force& load : phase) loads_N.push_back(load.value());
  return loads_N;
}

}  // namespace

double contact_permittivity(double permittivity, double capacitance_factor, Pressure pressure,
                            Dielectric dielectric) {
  if (dielectric == Dielectric::as_stated) return capacitance_factor * permittivity;
  return material::permittivity_under_pressure(permittivity, pressure) +
         (capacitance_factor - 1.0) * permittivity;
}

Capacitance film_capacitance(double contact_permittivity, Area hertz_area, Length central_film) {
  if (!(contact_permittivity > 0.0 && hertz_area > Area{} && central_film > Length{}))
    throw std::invalid_argument("film capacitance: permittivity, area and film must be positive");
  return Capacitance::from_value(material::vacuum_permittivity_F_per_m * contact_permittivity *
                                 hertz_area.value() / central_film.value());
}

FilmModel::FilmModel(const BallBearing& bearing, const FilmMaterial& material,
                     const LoadDistribution& loads)
    : FilmModel(bearing, material, std::span(&loads, 1)) {}

FilmModel::FilmModel(const BallBearing& bearing, const FilmMaterial& material,
                     std::span<const LoadDistribution> phases)
    : FilmModel(Rings(bearing, material), material, all_loads_N(phases), phases.size()) {}

FilmModel::FilmModel(const RollerBearing& bearing, const FilmMaterial& material,
                     std::span<const std::vector<Force>> phases)
    : FilmModel(Rings(bearing, material), material, all_loads_N(phases), phases.size()) {}

std::vector<FilmModel> FilmModel::under_loads(const BallBearing& bearing,
                                              const FilmMaterial& material,
                                              std::span<const AppliedLoad> loads, int count) {
  const Rings rings(bearing, material);
  const std::vector<double> loads_N =
      ball_loads_N_over_phase(bearing, material.steel, loads, count);
  std::vector<FilmModel> models;
  models.reserve(loads.size());
  for (std::size_t i = 0; i < loads.size(); ++i) {
    const std::size_t of_one = loads_N.size() / loads.size();
    models.push_back(FilmModel(rings, material, std::span(loads_N).subspan(i * of_one, of_one),
                               static_cast<std::size_t>(count)));
  }
  return models;
}

FilmModel::FilmModel(const Rings& rings, const FilmMaterial& material,
                     std::span<const double> loads_N, std::size_t positions)
    : minimum_exponent_(rings.inner.powers.minimum_speed),
      central_exponent_(rings.inner.powers.central_speed),
      roughness_m_(material.roughness.value()),
      entrainment_m_(rings.entrainment_m) {
  const Contacts &inner = rings.inner, &outer = rings.outer;
  if (positions == 0) throw std::invalid_argument("film model: no load distribution");
  if (!(material.film_factor > 0.0 && material.roughness > Length{} &&
        material.permittivity > 0.0 && material.capacitance_factor > 0.0))
    throw std::invalid_argument(
        "film model: film factor, roughness, permittivity and capacitance factor must be positive");

  static const numerics::LaneWidth width = numerics::widest_lanes();
  const auto unit_contact = [&](const Contacts& ring) {
    return UnitContact{ring.area_m2, material.film_factor * ring.central_m};
  };
  const FilmSums sums =
      film_sums(loads_N, unit_contact(inner), unit_contact(outer),
                {inner.powers.area_load, inner.powers.central_load},
                {material.permittivity, material.capacitance_factor, material.dielectric}, width);
  const double worst_N = sums.worst_N;
  if (!(worst_N > 0.0))
    throw std::invalid_argument(
        "film model: no rolling element of the load distribution carries load");
  const auto count = static_cast<double>(positions);
  unloaded_ = sums.unloaded / count;
  area_inner_m2_ = sums.area_inner_m2 / count;
  capacitance_F_ = sums.capacitance_F / count;
  // Both rings follow the load by the same powers.
  const Contacts::Powers& powers = inner.powers;
  const double by_area = std::pow(worst_N, powers.area_load);
  // Refuses an oil that is too polar; none is squeezed harder.
  for (const Contacts* ring : {&inner, &outer})
    contact_permittivity(material.permittivity, material.capacitance_factor,
                         Pressure::from_value(worst_N / (ring->area_m2 * by_area)),
                         material.dielectric);
  const double by_minimum = material.film_factor * std::pow(worst_N, powers.minimum_load);
  const double by_central = material.film_factor * std::pow(worst_N, powers.central_load);
  minimum_inner_m_ = inner.minimum_m * by_minimum;
  minimum_outer_m_ = outer.minimum_m * by_minimum;
  central_inner_m_ = inner.central_m * by_central;
  central_outer_m_ = outer.central_m * by_central;
}

Speed FilmModel::entrainment(AngularVelocity omega) const {
  return Speed::from_value(entrainment_m_ * std::abs(omega.value()));
}

FilmState FilmModel::at(AngularVelocity omega, DynamicViscosity eta, double heating_factor,
                        double permittivity_share) const {
  if (!(eta > DynamicViscosity{}))
    throw std::invalid_argument("oil film: viscosity must be positive");
  if (!(heating_factor > 0.0 && heating_factor <= 1.0 && permittivity_share > 0.0))
    throw std::invalid_argument(
        "oil film: heating factor must be in (0, 1] and the share of permittivity positive");
  FilmState state{.minimum_inner = Length{},
                  .central_inner = Length{},
                  .minimum_outer = Length{},
                  .central_outer = Length{},
                  .film_ratio = 0.0,
                  .area_inner = Area::from_value(area_inner_m2_),
                  .capacitance = Capacitance{},
                  .conducting = true,
                  .unloaded = unloaded_};
  const double speed_Pa_m = eta.value() * entrainment(omega).value();  // eta u
  if (!(speed_Pa_m > 0.0)) return state;

  // Two exponentials of one logarithm: half the time of two powers.
  const double log_speed = std::log(speed_Pa_m);
  const double minimum = heating_factor * std::exp(minimum_exponent_ * log_speed);
  const double central = heating_factor * std::exp(central_exponent_ * log_speed);
  state.minimum_inner = Length::from_value(minimum * minimum_inner_m_);
  state.minimum_outer = Length::from_value(minimum * minimum_outer_m_);
  state.central_inner = Length::from_value(central * central_inner_m_);
  state.central_outer = Length::from_value(central * central_outer_m_);
  state.film_ratio = minimum * minimum_inner_m_ / roughness_m_;
  state.capacitance = Capacitance::from_value(permittivity_share * capacitance_F_ / central);
  state.conducting = state.film_ratio < 1.0;
  return state;
}

}  // namespace ohmdrag::bearing

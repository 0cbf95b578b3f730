#include "study/other_path.hpp"

#include "ohmdrag/component/mesh_film.hpp"
#include "ohmdrag/material/permittivity.hpp"
#include "ohmdrag/study/gear_pair.hpp"

namespace ohmdrag::study {

voltage::ThresholdBand band_of(const Uncertain<Voltage>& threshold) {
  const auto quantile = [&](double u) { return Voltage::from_value(threshold.spread.quantile(u)); };
  return {quantile(0.05), quantile(0.5), quantile(0.95)};
}

voltage::PathKind kind_of(PathToFrame::Kind kind) {
  switch (kind) {
    case PathToFrame::Kind::driven_machine:
      return voltage::PathKind::driven_machine;
    case PathToFrame::Kind::gear_mesh:
      return voltage::PathKind::gear_mesh;
    case PathToFrame::Kind::stated:
      break;
  }
  return voltage::PathKind::stated;
}

voltage::PathThreshold FilmStrength::of_bearing(Length h_min, double film_ratio) const {
  return {voltage::static_threshold(drawn, h_min, film_ratio),
          voltage::threshold_band(band, h_min, film_ratio)};
}

voltage::PathThreshold FilmStrength::of_one_film(Length h_min, double film_ratio) const {
  return {voltage::one_film_threshold(drawn, h_min, film_ratio),
          {voltage::one_film_threshold(band.at_05, h_min, film_ratio),
           voltage::one_film_threshold(band.at_50, h_min, film_ratio),
           voltage::one_film_threshold(band.at_95, h_min, film_ratio)}};
}

FilmStrength film_strength(const DischargeConstants& constants, const Draw& draw) {
  const auto quantile = [&](double u) {
    return ElectricField::from_value(constants.breakdown_field.spread.quantile(u));
  };
  return {draw(constants.breakdown_field), {quantile(0.05), quantile(0.5), quantile(0.95)}};
}

bearing::Dielectric dielectric_of(const Lubricant& oil) {
  return oil.permittivity.mid() <= material::highest_nonpolar_permittivity
             ? bearing::Dielectric::under_pressure
             : bearing::Dielectric::as_stated;
}

OtherPath::OtherPath(const PathToFrame& entry, std::size_t shaft, const Case& world,
                     const material::LubricantProperties& oil, const Draw& draw)
    : shaft_(shaft) {
  as_stated_.id = entry.id;
  as_stated_.kind = kind_of(entry.kind);
  if (entry.behind) as_stated_.in_series = draw(*entry.behind);
  if (!entry.gear) {
    as_stated_.film = draw(entry.capacitance.value());
    as_stated_.threshold = {draw(entry.threshold.value()), band_of(entry.threshold.value())};
    return;
  }
  const DischargeConstants& constants = world.discharge;
  const component::GearPair pair = gear_pair_of(*entry.gear, draw);
  mesh_ =
      Mesh{.pair = pair,
           .geometry = component::mesh_geometry(pair),
           .material = {.steel = {draw(entry.young_modulus.value()), draw(entry.poisson.value())},
                        .alpha_p = oil.pressure_viscosity,
                        .film_factor = draw(constants.film_factor),
                        .roughness = draw(entry.roughness.value()),
                        .permittivity = oil.permittivity,
                        .capacitance_factor = draw(constants.line_capacitance_factor),
                        .dielectric = dielectric_of(world.sump.lubricant)},
           .oil = oil,
           .strength = film_strength(constants, draw)};
}

std::optional<voltage::DischargePath> OtherPath::state(AngularVelocity speed, Temperature oil,
                                                       Torque torque) const {
  if (mesh_) return mesh_state(speed, oil, torque);
  return as_stated_;
}

std::optional<voltage::DischargePath> OtherPath::mesh_state(AngularVelocity speed, Temperature oil,
                                                            Torque torque) const {
  const Mesh& mesh = *mesh_;
  const DynamicViscosity eta = material::dynamic_viscosity(mesh.oil, oil);
  const double heating = bearing::inlet_heating_factor(
      eta, component::mesh_entrainment(mesh.pair, mesh.geometry, speed),
      mesh.oil.viscosity.point(oil.value()).log_slope_per_K, mesh.oil.conductivity);
  const auto film =
      component::mesh_film(mesh.pair, mesh.geometry, mesh.material, eta, torque, speed, heating);
  if (!film) return std::nullopt;
  voltage::DischargePath path = as_stated_;
  path.film = material::permittivity_share(mesh.oil, oil) * film->capacitance;
  path.conducting = film->conducting;
  path.film_ratio = film->film_ratio;
  path.area = film->area;
  path.threshold = mesh.strength.of_one_film(film->minimum, film->film_ratio);
  return path;
}

}  // namespace ohmdrag::study

#include "ohmdrag/component/mesh_film.hpp"

#include <cmath>

namespace ohmdrag::component {

Speed mesh_entrainment(const GearPair& pair, const MeshGeometry& geometry, AngularVelocity speed) {
  const double ratio = static_cast<double>(pair.wheel_teeth) / pair.pinion_teeth;
  const Length pitch_radius = pair.centre_distance / (ratio + 1.0);
  const auto magnitude = AngularVelocity::from_value(std::abs(speed.value()));
  return rim_speed(magnitude, pitch_radius) * std::sin(geometry.working_transverse_pressure_angle);
}

std::optional<MeshFilm> mesh_film(const GearPair& pair, const MeshGeometry& geometry,
                                  const bearing::FilmMaterial& material, DynamicViscosity eta,
                                  Torque torque, AngularVelocity speed, double heating_factor) {
  if (torque == Torque{}) return std::nullopt;
  const auto magnitude = Torque::from_value(std::abs(torque.value()));
  const Force tooth_force =
      Force::from_value(2.0 * magnitude.value() / geometry.pinion_base_diameter.value());
  const bearing::LineContact contact{
      .rolling_radius = geometry.reduced_radius,
      .line = pair.face_width,
      .reduced_modulus = bearing::reduced_modulus(material.steel, material.steel),
      .alpha_p = material.alpha_p,
      .load = tooth_force};
  const bearing::ContactStrip strip = bearing::contact_strip(contact.rolling_radius, contact.line,
                                                             contact.reduced_modulus, contact.load);
  const Area strip_area = 2.0 * strip.half_width * contact.line;
  MeshFilm film{.minimum = {},
                .central = {},
                .film_ratio = 0.0,
                .half_width = strip.half_width,
                .area = geometry.contact_ratio() * strip_area,
                .capacitance = {},
                .conducting = true};
  const Speed u = mesh_entrainment(pair, geometry, speed);
  if (u == Speed{}) return film;
  const double factor = material.film_factor * heating_factor;
  film.minimum = factor * bearing::minimum_film(contact, eta, u);
  film.central = factor * bearing::central_film(contact, eta, u);
  film.film_ratio = bearing::film_ratio(film.minimum, material.roughness);
  film.conducting = film.film_ratio < 1.0;
  film.capacitance = bearing::film_capacitance(
      bearing::contact_permittivity(material.permittivity, material.capacitance_factor,
                                    tooth_force / strip_area, material.dielectric),
      film.area, film.central);
  return film;
}

}  // namespace ohmdrag::component

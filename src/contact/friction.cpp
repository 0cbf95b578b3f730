#include "ohmdrag/contact/friction.hpp"

#include <cmath>
#include <stdexcept>

#include "ohmdrag/contact/friction_kernel.hpp"

namespace ohmdrag::contact {

namespace {

void check_ring(Length diameter, bool magnitude_valid) {
  if (!(diameter.value() > 0.0))
    throw std::invalid_argument("contact: the shaft diameter must be positive");
  if (!magnitude_valid)
    throw std::invalid_argument("contact: force and friction must not be negative");
}

}  // namespace

double duty_parameter(DynamicViscosity viscosity, Speed surface_speed, LineForce line_force) {
  if (!(viscosity.value() > 0.0 && line_force.value() > 0.0))
    throw std::invalid_argument("mixed film: viscosity and line force must be positive");
  return viscosity.value() * std::abs(surface_speed.value()) / line_force.value();
}

MixedFilmConstants mixed_film_constants(const MixedFilm& film) {
  return {.boundary_friction = film.boundary_friction,
          .film_factor = film.film_coefficient *
                         std::cbrt((film.contact_width / film_reference_width).value()),
          .log_transition = std::log(film.transition_duty),
          .load_share_exponent = film.load_share_exponent};
}

MixedFilmPoint mixed_film_point(const MixedFilm& film, double duty) {
  return mixed_film_at<numerics::LibraryMath>(mixed_film_constants(film), std::log(duty));
}

void check(const FrictionLaw& law) {
  if (const auto* constant = std::get_if<ConstantFriction>(&law)) {
    if (!(constant->coefficient >= 0.0))
      throw std::invalid_argument("dry contact: friction must not be negative");
    return;
  }
  if (const auto* ptfe = std::get_if<PtfeContact>(&law)) {
    if (!(ptfe->contact_width.value() > 0.0))
      throw std::invalid_argument("dry PTFE: the contact width must be positive");
    check(ptfe->friction);
    return;
  }
  const auto& film = std::get<MixedFilm>(law);
  if (!(film.boundary_friction > 0.0 && film.film_coefficient > 0.0 && film.transition_duty > 0.0 &&
        film.load_share_exponent > 0.0 && film.contact_width.value() > 0.0))
    throw std::invalid_argument("mixed film: every parameter must be positive");
}

FrictionLaw scaled(FrictionLaw law, double factor) {
  if (auto* constant = std::get_if<ConstantFriction>(&law)) {
    constant->coefficient *= factor;
  } else if (auto* ptfe = std::get_if<PtfeContact>(&law)) {
    ptfe->friction.filled_factor *= factor;
  } else {
    auto& film = std::get<MixedFilm>(law);
    film.boundary_friction *= factor;
    film.film_coefficient *= factor;
  }
  return law;
}

double friction_coefficient(const FrictionLaw& law, DynamicViscosity viscosity, Speed surface_speed,
                            LineForce line_force) {
  check(law);
  if (const auto* constant = std::get_if<ConstantFriction>(&law)) return constant->coefficient;
  if (const auto* ptfe = std::get_if<PtfeContact>(&law))
    return ptfe_friction(ptfe->friction, line_force / ptfe->contact_width, surface_speed)
        .coefficient;
  return mixed_film_point(std::get<MixedFilm>(law),
                          duty_parameter(viscosity, surface_speed, line_force))
      .friction;
}

std::optional<numerics::RangeFlag> outside_mixed_film(double contact_duty) {
  if (contact_duty == 0.0) return std::nullopt;
  return numerics::flag_outside("mixed film of a lip", "duty parameter at contact temperature",
                                contact_duty, 3e-5, 2e-3);
}

Force radial_load(LineForce line_force, Length diameter) {
  check_ring(diameter, line_force.value() >= 0.0);
  return line_force * std::numbers::pi * diameter;
}

LineForce line_force_from_total(Force total, Length diameter) {
  check_ring(diameter, total.value() >= 0.0);
  return total / (std::numbers::pi * diameter);
}

LineForce line_force_from_split_reading(Force reading, Length diameter) {
  check_ring(diameter, reading.value() >= 0.0);
  return reading / diameter;
}

Torque friction_torque(double friction, Force load, Length diameter) {
  check_ring(diameter, friction >= 0.0 && load.value() >= 0.0);
  return torque_of(friction * load, 0.5 * diameter);
}

Torque break_away_torque(const FrictionLaw& law, Force load, Length diameter,
                         double static_over_running) {
  check(law);
  const auto* film = std::get_if<MixedFilm>(&law);
  const double friction =
      film ? film->boundary_friction
           : static_over_running *
                 friction_coefficient(law, {}, {}, line_force_from_total(load, diameter));
  return friction_torque(friction, load, diameter);
}

}  // namespace ohmdrag::contact

#include "ohmdrag/component/gas_face_seal.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "ohmdrag/material/air.hpp"

namespace ohmdrag::component {

namespace {

using numerics::flag_outside;
using numerics::RangeFlag;

constexpr auto gas_film = "gas film of a face seal";

void add(std::vector<RangeFlag>& flags, const std::optional<RangeFlag>& flag) {
  if (flag) flags.push_back(*flag);
}

void check(const SealFaces& faces) {
  if (!(faces.inner_radius.value() >= 0.0 && faces.outer_radius > faces.inner_radius))
    throw std::invalid_argument("face seal: the outer radius must exceed the inner one");
}

void check(const SealFaces& faces, const FaceGas& gas, Length film) {
  check(faces);
  if (!(gas.viscosity.value() > 0.0 && gas.density.value() > 0.0 && gas.pressure.value() > 0.0))
    throw std::invalid_argument("face seal: viscosity, density and pressure must be positive");
  if (!(gas.mean_free_path.value() >= 0.0))
    throw std::invalid_argument("face seal: the mean free path must not be negative");
  if (!(film.value() > 0.0)) throw std::invalid_argument("face seal: the film must be positive");
}

void check(const GasFaceSeal& seal) {
  if (!(seal.boundary_friction >= 0.0 && seal.contact_force.value() >= 0.0))
    throw std::invalid_argument("face seal: friction and contact force must not be negative");
  if (!(seal.lift_off.value() > 0.0 && seal.film_speed.value() > 0.0))
    throw std::invalid_argument("face seal: lift-off and film speed must be positive");
  if (!(seal.reference_film.value() > 0.0 && seal.least_film.value() > 0.0 &&
        seal.highest_film >= seal.least_film))
    throw std::invalid_argument(
        "face seal: films must be positive and the highest not below the least");
}

}  // namespace

FaceGas air_between_faces(Temperature temperature, Pressure pressure) {
  const DynamicViscosity mu = material::air_viscosity(temperature);
  const Density rho = material::air_density(temperature, pressure);
  // R_s T = p/rho of the ideal gas.
  const double p_Pa = pressure.value();
  const double path_m =
      mu.value() / p_Pa * std::sqrt(std::numbers::pi * p_Pa / (2.0 * rho.value()));
  return {.viscosity = mu,
          .density = rho,
          .pressure = pressure,
          .mean_free_path = Length::from_value(path_m)};
}

Length mean_friction_radius(const SealFaces& faces) {
  check(faces);
  const double r_i = faces.inner_radius.value();
  const double r_o = faces.outer_radius.value();
  // (r_o^3 - r_i^3)/(r_o^2 - r_i^2) with the common factor r_o - r_i taken out: no cancellation
  // for narrow faces.
  return Length::from_value(2.0 / 3.0 * (r_o * r_o + r_o * r_i + r_i * r_i) / (r_o + r_i));
}

Torque gas_film_torque(const SealFaces& faces, const FaceGas& gas, Length film,
                       AngularVelocity speed) {
  check(faces, gas, film);
  const double r_i = faces.inner_radius.value();
  const double r_o = faces.outer_radius.value();
  const double r4_m4 = (r_o - r_i) * (r_o + r_i) * (r_o * r_o + r_i * r_i);
  const double gap_m = (film + 2.0 * gas.mean_free_path).value();
  return Torque::from_value(0.5 * std::numbers::pi * gas.viscosity.value() * speed.value() * r4_m4 /
                            gap_m);
}

double compressibility_number(const SealFaces& faces, const FaceGas& gas, Length film,
                              AngularVelocity speed) {
  check(faces, gas, film);
  const double r_i = faces.inner_radius.value();
  const double r_o = faces.outer_radius.value();
  const double h_m = film.value();
  return 6.0 * gas.viscosity.value() * std::abs(speed.value()) * (r_o - r_i) * (r_o + r_i) /
         (gas.pressure.value() * h_m * h_m);
}

std::vector<RangeFlag> outside_gas_film(const SealFaces& faces, const FaceGas& gas, Length film,
                                        AngularVelocity speed) {
  check(faces, gas, film);
  std::vector<RangeFlag> flags;
  const Speed rim = rim_speed(speed, faces.outer_radius);
  const double reynolds =
      gas.density.value() * std::abs(rim.value()) * film.value() / gas.viscosity.value();
  add(flags, flag_outside(gas_film, "Reynolds number of the gap", reynolds, 0.0, 500.0));
  add(flags, flag_outside(gas_film, "mean free path over film height",
                          (gas.mean_free_path / film).value(), 0.0, 0.1));
  return flags;
}

GasFaceSealState gas_face_seal_state(const GasFaceSeal& seal, const FaceGas& gas,
                                     AngularVelocity speed) {
  check(seal);
  const double omega_rad_s = std::abs(speed.value());
  if (std::isnan(omega_rad_s)) throw std::invalid_argument("gas face seal: the speed is undefined");
  const double at_reference =
      compressibility_number(seal.faces, gas, seal.reference_film, seal.film_speed);
  const bool like_a_liquid = at_reference < 10.0;
  const Length raw = like_a_liquid
                         ? seal.reference_film * std::sqrt(omega_rad_s / seal.film_speed.value())
                         : seal.reference_film;

  GasFaceSealState state;
  const double lifted = omega_rad_s / seal.lift_off.value();
  state.contact_share = std::exp(-lifted * lifted);
  state.film = std::clamp(raw, seal.least_film, seal.highest_film);
  state.compressibility = compressibility_number(seal.faces, gas, state.film, speed);

  const Torque contact =
      torque_of(seal.boundary_friction * seal.contact_force, mean_friction_radius(seal.faces));
  const Torque film = gas_film_torque(seal.faces, gas, state.film, speed);
  state.torque = state.contact_share * (speed.value() < 0.0 ? -contact : contact) +
                 (1.0 - state.contact_share) * film;
  state.power = state.torque * speed;

  // At rest there is no film to judge.
  if (omega_rad_s > 0.0) {
    state.flags = outside_gas_film(seal.faces, gas, state.film, speed);
    add(state.flags,
        flag_outside(gas_film, "film height, um, replaced by its bound", raw.value() * 1e6,
                     seal.least_film.value() * 1e6, seal.highest_film.value() * 1e6));
  }
  return state;
}

}  // namespace ohmdrag::component

#include "ohmdrag/contact/convection.hpp"

#include <cmath>
#include <stdexcept>

#include "ohmdrag/contact/convection_kernel.hpp"
#include "ohmdrag/material/air.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::contact {

namespace {

double rayleigh(Length diameter, TemperatureDifference rise, const FluidState& fluid) {
  return rayleigh_number(diameter.value(), rise.value(), fluid.viscosity.value(), fluid.prandtl,
                         fluid.expansion_per_K);
}

}  // namespace

FluidState oil_state(const material::LubricantProperties& oil, Temperature temperature) {
  const KinematicViscosity nu = material::kinematic_viscosity(oil, temperature);
  const Density rho = material::oil_density(oil.density_15, temperature);
  return {.conductivity = oil.conductivity,
          .viscosity = nu,
          .prandtl = (nu * rho * oil.specific_heat / oil.conductivity).value(),
          .expansion_per_K = material::oil_expansion_per_K(oil.density_15, temperature)};
}

FluidState air_state(Temperature temperature) {
  return {.conductivity = material::air_conductivity(temperature),
          .viscosity = material::air_viscosity(temperature) /
                       material::air_density(temperature, material::standard_pressure),
          .prandtl = material::air_prandtl(temperature),
          .expansion_per_K = 1.0 / temperature.value()};
}

double turning_reynolds(Length diameter, AngularVelocity speed, KinematicViscosity viscosity) {
  const double d = diameter.value();
  return std::abs(speed.value()) * d * d / (2.0 * viscosity.value());
}

HeatTransferCoefficient film_coefficient(const Convection& law, Length diameter,
                                         AngularVelocity speed, const FluidState& fluid) {
  if (!(diameter.value() > 0.0))
    throw std::invalid_argument("convection: the diameter must be positive");
  if (const auto* fixed = std::get_if<FixedFilm>(&law)) {
    if (!(fixed->coefficient.value() > 0.0))
      throw std::invalid_argument("convection: the film coefficient must be positive");
    return fixed->coefficient;
  }
  const auto& cylinder = std::get<TurningCylinder>(law);
  if (!(cylinder.wetted_factor > 0.0 && cylinder.wetted_factor <= 1.0 &&
        cylinder.free_rise.value() > 0.0))
    throw std::invalid_argument(
        "convection: the wetted factor must lie in (0, 1] and the rise must be positive");

  const double omega = speed.value();
  const NusseltCubes cubes = nusselt_cubes<numerics::LibraryMath>(
      diameter.value(), cylinder.free_rise.value(), fluid.viscosity.value(), fluid.prandtl,
      fluid.expansion_per_K);
  const double nusselt = std::cbrt(cubes.free + cubes.turning_s2 * omega * omega);
  return cylinder.wetted_factor * nusselt * fluid.conductivity / diameter;
}

std::vector<numerics::RangeFlag> outside_turning_cylinder(const Convection& law, Length diameter,
                                                          AngularVelocity speed,
                                                          const FluidState& fluid) {
  std::vector<numerics::RangeFlag> flags;
  const auto* cylinder = std::get_if<TurningCylinder>(&law);
  if (!cylinder) return flags;
  constexpr auto formula = "convection of a turning cylinder";
  const auto add = [&](std::string_view quantity, double value, double low, double high) {
    if (const auto flag = numerics::flag_outside(formula, quantity, value, low, high))
      flags.push_back(*flag);
  };
  add("Reynolds number", turning_reynolds(diameter, speed, fluid.viscosity), 0.0, 4.3e5);
  // The low end of the published range is air, whose number is 0.67 to 0.72 over temperature.
  add("Prandtl number", fluid.prandtl, 0.65, 670.0);
  add("Rayleigh number", rayleigh(diameter, cylinder->free_rise, fluid), 0.0, 1e12);
  return flags;
}

}  // namespace ohmdrag::contact

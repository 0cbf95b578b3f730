#include "ohmdrag/material/air.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::material {

namespace {

double checked_K(Temperature temperature) {
  if (!(temperature.value() > 0.0))
    throw std::invalid_argument("air: the temperature must be above absolute zero");
  return temperature.value();
}

}  // namespace

DynamicViscosity air_viscosity(Temperature temperature) {
  const double t = checked_K(temperature);
  return DynamicViscosity::from_value(1.458e-6 * t * std::sqrt(t) / (t + 110.4));
}

ThermalConductivity air_conductivity(Temperature temperature) {
  const double t = checked_K(temperature);
  return ThermalConductivity::from_value(2.64638e-3 * t * std::sqrt(t) /
                                         (t + 245.4 * std::pow(10.0, -12.0 / t)));
}

Density air_density(Temperature temperature, Pressure pressure) {
  const double t = checked_K(temperature);
  if (!(pressure.value() > 0.0)) throw std::invalid_argument("air: pressure must be positive");
  constexpr double gas_constant_J_kgK = 287.05;
  return Density::from_value(pressure.value() / (gas_constant_J_kgK * t));
}

double air_prandtl(Temperature temperature) {
  constexpr double specific_heat_J_kgK = 1006.0;
  return air_viscosity(temperature).value() * specific_heat_J_kgK /
         air_conductivity(temperature).value();
}

}  // namespace ohmdrag::material

#pragma once

#include "ohmdrag/material/density.hpp"
#include "ohmdrag/material/viscosity.hpp"

namespace ohmdrag::material {

/// One oil as the models see it. Conductivity, specific heat and the pressure-viscosity coefficient
/// are taken as constant over temperature.
struct LubricantProperties {
  Walther viscosity;
  Density density_15;  ///< at 15 degC
  ThermalConductivity conductivity;
  SpecificHeat specific_heat;
  double permittivity;  ///< relative, at 15 degC and ambient pressure: see permittivity.hpp
  PerPressure pressure_viscosity;
};

KinematicViscosity kinematic_viscosity(const LubricantProperties& oil, Temperature temperature);

/// eta = nu rho, both at the temperature. Throws as Walther::at and oil_density.
DynamicViscosity dynamic_viscosity(const LubricantProperties& oil, Temperature temperature);

/// For the inner loops. \throws std::invalid_argument unless density_15 is positive.
OilConstants oil_constants(const LubricantProperties& oil);

/// Prandtl number nu rho c / k.
double prandtl_number(const LubricantProperties& oil, Temperature temperature);

}  // namespace ohmdrag::material

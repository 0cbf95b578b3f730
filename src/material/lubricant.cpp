#include "ohmdrag/material/lubricant.hpp"

namespace ohmdrag::material {

KinematicViscosity kinematic_viscosity(const LubricantProperties& oil, Temperature temperature) {
  return oil.viscosity.at(temperature);
}

DynamicViscosity dynamic_viscosity(const LubricantProperties& oil, Temperature temperature) {
  return oil.viscosity.at(temperature) * oil_density(oil.density_15, temperature);
}

double prandtl_number(const LubricantProperties& oil, Temperature temperature) {
  return dynamic_viscosity(oil, temperature) * oil.specific_heat / oil.conductivity;
}

}  // namespace ohmdrag::material

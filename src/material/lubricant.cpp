#include "ohmdrag/material/lubricant.hpp"

#include <cmath>

namespace ohmdrag::material {

KinematicViscosity kinematic_viscosity(const LubricantProperties& oil, Temperature temperature) {
  return oil.viscosity.at(temperature);
}

DynamicViscosity dynamic_viscosity(const LubricantProperties& oil, Temperature temperature) {
  return oil.viscosity.at(temperature) * oil_density(oil.density_15, temperature);
}

OilConstants oil_constants(const LubricantProperties& oil) {
  const double density = oil.density_15.value();
  // The slope of the law at its reference is alpha itself.
  const double alpha = oil_expansion_per_K(oil.density_15, from_celsius(15.0));
  return {.log_k = oil.viscosity.log_k(),
          .b = oil.viscosity.b(),
          .constant = oil.viscosity.constant(),
          .density_kg_m3 = density,
          .alpha_per_K = alpha,
          .log_eta_factor = std::log(1e-6 * density)};
}

double prandtl_number(const LubricantProperties& oil, Temperature temperature) {
  return dynamic_viscosity(oil, temperature) * oil.specific_heat / oil.conductivity;
}

}  // namespace ohmdrag::material

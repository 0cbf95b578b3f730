#include "ohmdrag/material/permittivity.hpp"

#include <stdexcept>

#include "ohmdrag/material/density.hpp"

namespace ohmdrag::material {

double compression(Pressure pressure) {
  const double p_GPa = pressure.value() * 1e-9;
  if (!(p_GPa >= 0.0))
    throw std::invalid_argument("compression of oil: the pressure must not be negative");
  return 1.0 + 0.6 * p_GPa / (1.0 + 1.7 * p_GPa);
}

double permittivity_at_density(double permittivity, double density_share) {
  if (!(permittivity >= 1.0 && density_share > 0.0))
    throw std::invalid_argument(
        "permittivity: it must be at least 1 and the share of density positive");
  const double polarisation = density_share * (permittivity - 1.0) / (permittivity + 2.0);
  if (!(polarisation < 1.0))
    throw std::invalid_argument("permittivity: too polar to follow its density");
  return (1.0 + 2.0 * polarisation) / (1.0 - polarisation);
}

double permittivity_under_pressure(double permittivity, Pressure pressure) {
  return permittivity_at_density(permittivity, compression(pressure));
}

double permittivity_share(const LubricantProperties& oil, Temperature temperature) {
  return permittivity_at_density(oil.permittivity,
                                 oil_density(oil.density_15, temperature) / oil.density_15) /
         oil.permittivity;
}

}  // namespace ohmdrag::material

#include "ohmdrag/material/permittivity.hpp"

#include <stdexcept>

#include "ohmdrag/material/density.hpp"
#include "ohmdrag/material/permittivity_kernel.hpp"

namespace ohmdrag::material {

double compression(Pressure pressure) {
  const double p_GPa = pressure.value() * 1e-9;
  if (!(p_GPa >= 0.0))
    throw std::invalid_argument("compression of oil: the pressure must not be negative");
  return compression_of_oil(p_GPa);
}

double permittivity_at_density(double permittivity, double density_share) {
  if (!(permittivity >= 1.0 && density_share > 0.0))
    throw std::invalid_argument(
        "permittivity: it must be at least 1 and the share of density positive");
  const double polarisation = polarisation_at_density(permittivity, density_share);
  if (!(polarisation < 1.0))
    throw std::invalid_argument("permittivity: too polar to follow its density");
  return permittivity_of_polarisation(polarisation);
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

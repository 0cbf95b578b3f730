#pragma once

/// Arithmetic of the permittivity for inner loops. The laws, their sources and ranges are in
/// permittivity.hpp; here nothing is checked.
namespace ohmdrag::material {

[[gnu::always_inline]] inline double compression_of_oil(double p_GPa) {
  return 1.0 + 0.6 * p_GPa / (1.0 + 1.7 * p_GPa);
}

[[gnu::always_inline]] inline double polarisation_at_density(double permittivity,
                                                             double density_share) {
  return density_share * (permittivity - 1.0) / (permittivity + 2.0);
}

[[gnu::always_inline]] inline double permittivity_of_polarisation(double polarisation) {
  return (1.0 + 2.0 * polarisation) / (1.0 - polarisation);
}

}  // namespace ohmdrag::material

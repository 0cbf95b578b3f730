#include "ohmdrag/material/density.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::material {

namespace {

constexpr double k1_kg_m3K = 0.6278;  // group of lubricating oils, ASTM D1250

double alpha_per_K(Density density_15) {
  if (!(density_15.value() > 0.0))
    throw std::invalid_argument("oil density: the density at 15 degC must be positive");
  return k1_kg_m3K / density_15.value();
}

}  // namespace

Density oil_density(Density density_15, Temperature temperature) {
  const double ad = alpha_per_K(density_15) * (in_celsius(temperature) - 15.0);
  return density_15 * std::exp(-ad * (1.0 + 0.8 * ad));
}

double oil_expansion_per_K(Density density_15, Temperature temperature) {
  const double alpha = alpha_per_K(density_15);
  return alpha * (1.0 + 1.6 * alpha * (in_celsius(temperature) - 15.0));
}

}  // namespace ohmdrag::material

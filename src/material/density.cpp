#include "ohmdrag/material/density.hpp"

#include <cmath>
#include <stdexcept>

#include "ohmdrag/material/oil_kernel.hpp"

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
  return density_15 *
         std::exp(-oil_swelling(alpha_per_K(density_15), temperature.value()).log_ratio);
}

double oil_expansion_per_K(Density density_15, Temperature temperature) {
  return oil_swelling(alpha_per_K(density_15), temperature.value()).per_K;
}

}  // namespace ohmdrag::material

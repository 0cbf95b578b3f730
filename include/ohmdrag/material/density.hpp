#pragma once

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::material {

/// Density of a lubricating oil over temperature, lubricant group of the petroleum tables.
///
///     alpha = 0.6278 / rho15,   rho = rho15 exp[-alpha D (1 + 0.8 alpha D)],   D = t - 15 degC
///     rho15 [kg/m3], alpha [1/K]
///
/// Validity  lubricating oils of 800 to 1160 kg/m3 at 15 degC, about -20 to 150 degC.
/// Limits    rho15 at 15 degC.
/// Accuracy  0.1 % against the linear rule -0.65 kg/m3K at 100 degC.
/// Source    ASTM D1250 / ISO 91, group of lubricating oils (K0 = 0, K1 = 0.6278), as quoted in
///           public descriptions of the petroleum measurement tables; range from memory.
///
/// \param density_15   at 15 degC [kg/m3], > 0
/// \param temperature  [K]
/// \throws std::invalid_argument unless density_15 is positive.
Density oil_density(Density density_15, Temperature temperature);

/// Volume expansion of the same law, -d ln(rho)/dt [1/K].
double oil_expansion_per_K(Density density_15, Temperature temperature);

}  // namespace ohmdrag::material

#pragma once

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::material {

/// Dynamic viscosity of air.
///
///     mu = 1.458e-6 T^1.5 / (T + 110.4)      [Pa s], T [K]
///
/// Validity  100 to 1900 K, not above some 10 bar.
/// Limits    1.7161e-5 Pa s at 0 degC.
/// Accuracy  about 1 % between -50 and 300 degC.
/// Source    W. Sutherland (1893); constants of the U.S. Standard Atmosphere 1976, from memory.
///
/// \throws std::invalid_argument unless the temperature is above absolute zero.
DynamicViscosity air_viscosity(Temperature temperature);

/// Thermal conductivity of air.
///
///     k = 2.64638e-3 T^1.5 / (T + 245.4 * 10^(-12/T))      [W/(m K)], T [K]
///
/// Validity, accuracy, throws: as air_viscosity.
/// Source    U.S. Standard Atmosphere 1976, from memory.
ThermalConductivity air_conductivity(Temperature temperature);

/// Density of air as an ideal gas, specific gas constant 287.05 J/(kg K).
/// \throws std::invalid_argument unless temperature and pressure are positive.
Density air_density(Temperature temperature, Pressure pressure);

/// Prandtl number mu c / k with c = 1006 J/(kg K) (1 % up to 150 degC; from memory).
double air_prandtl(Temperature temperature);

/// Pressure at which the convection of open, vented housings is computed, 101 325 Pa.
inline constexpr Pressure standard_pressure = Pressure::from_value(101325.0);

}  // namespace ohmdrag::material

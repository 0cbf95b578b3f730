#pragma once

#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// How the permittivity of an oil follows its density, warm or under the pressure of a contact.
namespace ohmdrag::material {

/// CODATA 2018; a constant of nature, not of a model.
inline constexpr double vacuum_permittivity_F_per_m = 8.8541878128e-12;

/// Density under pressure over density at ambient pressure.
///
///     rho/rho_0 = 1 + 0.6 p/(1 + 1.7 p)          p [GPa]
///
/// Validity  mineral oils; fitted below about 0.4 GPa, used to contact pressures of 1 to 3 GPa.
/// Limits    1 at p = 0; 1.353 for p -> infinity.
/// Source    D. Dowson, G. R. Higginson, Elasto-hydrodynamic Lubrication, 1966, from memory.
///
/// \param pressure  p >= 0  [Pa]
/// \throws std::invalid_argument if the pressure is negative.
double compression(Pressure pressure);

/// Above this the molecules' own dipoles count and density alone does not set the permittivity.
inline constexpr double highest_nonpolar_permittivity = 4.0;

/// Permittivity after the density has changed.
///
///     (eps - 1)/(eps + 2) = share (eps_0 - 1)/(eps_0 + 2)
///
/// Validity  oils without strong dipoles, eps_0 up to highest_nonpolar_permittivity.
/// Limits    eps_0 at a share of 1, 1 at a share of 0.
/// Source    Clausius and Mossotti, as in any text on dielectrics.
///
/// \param permittivity   eps_0 >= 1
/// \param density_share  new density over old, > 0
/// \throws std::invalid_argument outside these, or where the right-hand side reaches 1.
double permittivity_at_density(double permittivity, double density_share);

/// The same under pressure, by compression().
double permittivity_under_pressure(double permittivity, Pressure pressure);

/// Permittivity at a temperature over that at 15 degC, where an entry states it; between 15 and
/// 25 degC, the temperatures of data sheets, lies 0.6 %.
///
/// Accuracy  the loss of density gives -0.06 %/K for hydrocarbons; about -0.05 %/K is measured
///           (Carey and Hayzen, Dielectric constant and oil analysis).
double permittivity_share(const LubricantProperties& oil, Temperature temperature);

}  // namespace ohmdrag::material

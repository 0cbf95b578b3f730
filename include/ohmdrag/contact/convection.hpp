#pragma once

#include <variant>
#include <vector>

#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// How a turning shaft gives its heat to the oil or air around it.
namespace ohmdrag::contact {

/// A stated film coefficient, at every speed.
struct FixedFilm {
  HeatTransferCoefficient coefficient;  ///< > 0
};

/// A turning cylinder in a fluid at rest, free convection taking over as the speed falls.
///
///     Re = omega d^2 / (2 nu)
///     Nu_rot  = 0.133 Re^(2/3) Pr^(1/3)
///     Nu_free = {0.60 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27)}^2
///     h = psi (Nu_free^3 + Nu_rot^3)^(1/3) k_f / d
///
/// Fluid properties are those at the surrounding temperature and Ra uses one stated temperature
/// rise, so that h does not depend on the result and the shaft's heat flow stays linear.
///
/// Validity  Re <= 4.3e5, Pr from air (0.7) to 670, Ra <= 1e12; see outside_turning_cylinder().
/// Limits    omega -> 0: free convection, not zero.
/// Accuracy  +-30 % in air, +-50 % in oil (extrapolated from water, Pr 2 to 6). Radiation (2 to 7
///           W/m2K for dark surfaces) is left out. Psi is an estimate.
/// Source    K. M. Becker, Int. J. Heat Mass Transfer 6 (1963) 1053, form as quoted in thesis
///           texts, range from memory; S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18
///           (1975) 1049, horizontal cylinder, from memory. The cubic combination is derived: an
///           interpolation between two limits.
struct TurningCylinder {
  double wetted_factor;             ///< psi in (0, 1]: 1 flooded or in air, 0.3 splash, 0.1 mist
  TemperatureDifference free_rise;  ///< > 0, surface over fluid, for the free convection only
};

using Convection = std::variant<FixedFilm, TurningCylinder>;

/// What convection needs to know of a fluid.
struct FluidState {
  ThermalConductivity conductivity;
  KinematicViscosity viscosity;
  double prandtl = 0.0;
  double expansion_per_K = 0.0;
};

FluidState oil_state(const material::LubricantProperties& oil, Temperature temperature);
/// Air at 101 325 Pa.
FluidState air_state(Temperature temperature);

/// h of a shaft at a speed (its sign does not matter).
/// \throws std::invalid_argument for members or a diameter outside the ranges named with them.
HeatTransferCoefficient film_coefficient(const Convection& law, Length diameter,
                                         AngularVelocity speed, const FluidState& fluid);

/// Re = |omega| d^2 / (2 nu).
double turning_reynolds(Length diameter, AngularVelocity speed, KinematicViscosity viscosity);

/// Flags of Reynolds and Prandtl number; none for a stated film.
std::vector<numerics::RangeFlag> outside_turning_cylinder(const Convection& law, Length diameter,
                                                          AngularVelocity speed,
                                                          const FluidState& fluid);

}  // namespace ohmdrag::contact

#pragma once

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::duty {

/// Oil sump and the metal around it at one temperature.
struct SumpNode {
  HeatCapacity heat_capacity;      ///< C > 0
  ThermalConductance conductance;  ///< G >= 0, to the surroundings
  Temperature ambient;
};

/// Sump temperature a step later, with heat and conductance held over the step.
///
///     T' = T_eq + (T - T_eq) exp(-G dt/C),   T_eq = T_amb + Q/G
///
/// Sign      heat into the sump positive.
/// Validity  one node: oil and housing share a temperature.
/// Limits    dt -> 0: T; G -> 0: T + Q dt/C; dt -> infinity: T_eq. Stable for every dt.
/// Accuracy  exact for constant heat.
/// Source    derived: solution of C dT/dt = Q - G (T - T_amb).
///
/// \param node  sump
/// \param now   temperature at the start of the step                [K]
/// \param heat  heat flow into the sump, losses and exchangers      [W]
/// \param dt    length of the step                                  [s]
/// \throws std::invalid_argument if C is not positive, G or dt negative.
Temperature temperature_after(const SumpNode& node, Temperature now, Power heat, Time dt);

}  // namespace ohmdrag::duty

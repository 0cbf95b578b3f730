#pragma once

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::duty {

/// Oil sump and the metal around it at one temperature.
struct SumpNode {
  HeatCapacity heat_capacity;      ///< C > 0
  ThermalConductance conductance;  ///< G >= 0, to the surroundings
  Temperature ambient;
};

/// What the air stream of a moving vehicle adds to the conductance of its sump.
struct AirStream {
  ThermalConductance added;  ///< at the reference speed, >= 0
  Speed at;                  ///< reference speed, > 0
  double exponent = 0.0;     ///< of the speed, >= 0
};

/// Conductance of a sump to its surroundings at a road speed.
///
///     G = G0 + G1 (v/v_ref)^n
///
/// Sign      v >= 0.
/// Limits    v = 0: G0; v = v_ref: G0 + G1.
/// Accuracy  that of G1 and n; n = 0.6 to 0.8 for air along a housing (from memory).
/// Source    derived: forced convection follows a power of the speed.
///
/// \param standing  G0, of the vehicle at rest  [W/K]
/// \param air       what the air stream adds
/// \param v         road speed                  [m/s]
/// \throws std::invalid_argument if G0, G1, n or v is negative or v_ref not positive.
ThermalConductance conductance_at(ThermalConductance standing, const AirStream& air, Speed v);

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

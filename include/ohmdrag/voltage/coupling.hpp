#pragma once

#include "ohmdrag/quantity/quantities.hpp"

/// How the winding's common-mode voltage reaches the rotor shaft.
namespace ohmdrag::voltage {

/// The shaft as one node: the winding drives it through C_wr, everything else holds it to frame.
struct ShaftNode {
  Capacitance winding_rotor;  ///< C_wr > 0
  Capacitance total;          ///< C_T >= C_wr
};

/// The node of a rotor with its bearings: C_T = C_wr + C_rf + sum of the bearings.
///
/// Validity  films intact (capacitive), below the first resonance of the winding; a uniform common
///           mode in the MHz range is good for +-6 dB.
/// Source    Erdman, Kerkman, Schlegel and Skibinski, IEEE Trans. Ind. Appl. 32(2) 1996, 250-259
///           (electrostatic system model; abstract read).
///
/// \throws std::invalid_argument if C_wr is not positive or another capacitance is negative.
ShaftNode shaft_node(Capacitance winding_rotor, Capacitance rotor_frame, Capacitance bearings);

/// Bearing voltage ratio, shaft over common mode with intact films and no grounding contact.
///
///     BVR = C_wr / C_T
///
/// Limits    1 where nothing else holds the shaft.
/// Source    Busse, Erdman, Kerkman, Schlegel and Skibinski, APEC 1996 (abstract read).
/// \throws std::invalid_argument if C_wr is not positive or C_T < C_wr.
double bearing_voltage_ratio(const ShaftNode& node);

/// Rotor to frame across the air gap, where nothing better is known.
///
///     C_rf = eps_0 pi D l / (k_C delta)
///
/// Validity  smooth rotor, slotted stator at frame potential; without end windings and end shields.
/// Limits    plain cylinder gap (thin against the bore) for k_C = 1.
/// Accuracy  unknown, some ten per cent for the plain gap.
/// Source    textbook estimate (from memory); the Carter factor is that of the magnetic gap.
///
/// \param bore           D of the stator [m]
/// \param stack          l, length of the iron [m]
/// \param gap            delta [m]
/// \param carter_factor  k_C >= 1
/// \throws std::invalid_argument unless D, l and delta are positive, the gap less than half the
///         bore and k_C at least 1.
Capacitance air_gap_capacitance(Length bore, Length stack, Length gap, double carter_factor);

}  // namespace ohmdrag::voltage

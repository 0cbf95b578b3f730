#pragma once

#include <complex>
#include <optional>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/coupling.hpp"

/// The grounding path from shaft to frame and what it leaves of a sine.
namespace ohmdrag::voltage {

/// An insulating film, or one of many unequal spots: a leaking capacitor.
struct Film {
  Resistance resistance;    ///< R_f >= 0
  Capacitance capacitance;  ///< C_f >= 0, beside the resistance; 0: a mere resistance
};

/// A contact and its connection: resistance, inductance and films in series, and what lies beside
/// all of it.
///
/// Every impedance of resistors and capacitors is such a chain of films (Foster, Bell Syst. Tech.
/// J. 3 (1924) 259-267; the form is a textbook's, from memory), with non-negative members it is
/// passive. A measured one is brought into this form by measured_path.hpp.
struct GroundingPath {
  Resistance resistance;         ///< R >= 0
  Inductance inductance;         ///< L >= 0
  std::vector<Film> films = {};  ///< in series with both
  Capacitance across = {};       ///< from shaft to frame: a fixture, a wetted contact; adds to C_T
};

/// No value: no grounding, an infinite impedance.
using MaybePath = std::optional<GroundingPath>;

/// Z = Z_b / (1 + j w C_across Z_b), Z_b = R + j w L + sum R_f/(1 + j w R_f C_f), in ohm.
///
/// Source    derived.
/// \throws std::invalid_argument if a member or f is negative.
std::complex<double> impedance_ohm(const GroundingPath& path, Frequency frequency);
Resistance impedance_magnitude(const GroundingPath& path, Frequency frequency);
double impedance_phase_deg(const GroundingPath& path, Frequency frequency);

/// What a direct current meets: R + sum R_f.
Resistance direct_resistance(const GroundingPath& path);

/// The path with every resistance, films too, times a factor: a contact that wears or a spread of
/// its resistance. Inductance and capacitances stay.
/// \throws std::invalid_argument if the factor is negative.
GroundingPath with_resistances(const GroundingPath& path, double factor);

/// The node with what lies across the path: C_T + C_across.
ShaftNode loaded_node(const ShaftNode& node, const MaybePath& path);

/// Where the inductance takes over from the resistance: w L = Re Z_b, which is R/(2 pi L) without
/// films. Nothing without inductance. 0 for a path without any resistance.
std::optional<Frequency> inductive_corner(const GroundingPath& path);
/// Where path and node resonate: the reactance of the branch cancels that of C_T + C_across,
/// 1/(2 pi sqrt(L C)) without films. Nothing without inductance. There is exactly one: x = w^2
/// times inductance less what the films and C take is convex in x and negative at 0 (derived).
std::optional<Frequency> path_resonance(const ShaftNode& node, const GroundingPath& path);

/// Shaft voltage with the path over shaft voltage without it.
///
///     a = j w C_T Z / (1 + j w C_T Z)
///
/// Sign      complex; |a| > 1 (amplified) above the resonance / sqrt(2) when there is inductance
///           and nothing else.
/// Validity  bearing films intact; one node.
/// Limits    1 without a path, 0 for Z = 0; at f = 0 0 (a direct voltage does not cross C_wr);
///           C_T/(C_T + C_across) far above; independent of the link voltage.
/// Source    derived: voltage divider of the Thevenin source BVR v_cm behind C_T.
/// \throws std::invalid_argument for an undefined node or path or negative frequency.
std::complex<double> attenuation(const ShaftNode& node, const MaybePath& path, Frequency frequency);
/// 20 lg |a|: negative where the path helps, positive where it amplifies, -infinity for |a| = 0.
double attenuation_dB(const ShaftNode& node, const MaybePath& path, Frequency frequency);

/// A film at a voltage that punctures it.
///
///     R = R_f  up to U_frit,   R = U_frit / I = R_f U_frit / U  above,   U = I R_f
///
/// Validity  a current that the circuit imposes; U is what the film as measured at a small level
///           would take of it. The capacitance stays. For a path in a linear response this is one
///           step towards its describing value, not a solution of the non-linear circuit.
/// Limits    continuous at U_frit; the voltage on the film never exceeds U_frit.
/// Accuracy  U_frit 0.3 V, 0.1 to 1 V (assumed).
/// Source    assumed form; fritting of films after R. Holm, Electric Contacts, 1967 (from memory).
/// \param voltage  U, magnitude
/// \throws std::invalid_argument for an undefined film, a negative voltage or a U_frit that is not
///         positive.
Film punctured(const Film& film, Voltage voltage, Voltage frit);

}  // namespace ohmdrag::voltage

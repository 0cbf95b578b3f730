#pragma once

#include <complex>
#include <optional>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/coupling.hpp"

/// The grounding path from shaft to frame and what it leaves of a sine.
namespace ohmdrag::voltage {

/// A contact and its connection in series.
struct GroundingPath {
  Resistance resistance;  ///< R >= 0
  Inductance inductance;  ///< L >= 0
};

/// No value: no grounding, an infinite impedance.
using MaybePath = std::optional<GroundingPath>;

/// Z = R + j 2 pi f L, in ohm.
///
/// Source    derived.
/// \throws std::invalid_argument if R, L or f is negative.
std::complex<double> impedance_ohm(const GroundingPath& path, Frequency frequency);
Resistance impedance_magnitude(const GroundingPath& path, Frequency frequency);
double impedance_phase_deg(const GroundingPath& path, Frequency frequency);

/// Where the inductance takes over from the resistance, R/(2 pi L); nothing without inductance.
std::optional<Frequency> inductive_corner(const GroundingPath& path);
/// Where path and node resonate, 1/(2 pi sqrt(L C_T)); nothing without inductance.
std::optional<Frequency> path_resonance(const ShaftNode& node, const GroundingPath& path);

/// Shaft voltage with the path over shaft voltage without it.
///
///     a = j w C_T Z / (1 + j w C_T Z)
///
/// Sign      complex; |a| > 1 (amplified) above the resonance / sqrt(2) when there is inductance.
/// Validity  films intact; one node. A capacitance across the contact belongs into C_T.
/// Limits    1 without a path, 0 for Z = 0 or f = 0; independent of the link voltage.
/// Source    derived: voltage divider of the Thevenin source BVR v_cm behind C_T.
/// \throws std::invalid_argument for an undefined node or path or negative frequency.
std::complex<double> attenuation(const ShaftNode& node, const MaybePath& path, Frequency frequency);
/// 20 lg |a|: negative where the path helps, positive where it amplifies, -infinity for |a| = 0.
double attenuation_dB(const ShaftNode& node, const MaybePath& path, Frequency frequency);

}  // namespace ohmdrag::voltage

#pragma once

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/inverter_source.hpp"
#include "ohmdrag/voltage/waveform.hpp"

/// What no harmonic of a common mode exceeds, wherever its nulls are: for statements of the worst
/// case, which no single harmonic can carry.
namespace ohmdrag::voltage {

/// Upper envelope of the harmonics of a waveform (peak): all its pieces and oscillations in phase.
///
///     sum |dv|/(pi f T) min(1, 1/(pi f h)) + sum (2/T) |A| w_r / |(pi f_r/Q + j w)^2 + w_r^2|
///
/// with the rise dv and duration h of each straight piece. Falls 20 dB a decade, 40 dB above
/// 1/(pi h); humps at the oscillations.
///
/// Validity  f >= 1/T; below there are no lines. Edges may move against each other as long as their
///           ramps stay apart; where ramps overlap, take that of the source.
/// Limits    that of a trapezoid above its first corner for two edges of equal duration.
/// Source    derived: triangle inequality on the terms of harmonic_V, |sinc x| <= min(1, 1/x).
/// \throws std::invalid_argument for an undefined waveform or a frequency that is not positive.
Voltage harmonic_envelope(const Waveform& waveform, Frequency frequency);

/// The same of an inverter, for every modulation, angle and moment of its edges: three legs that go
/// up and down by V_dc/3 once a carrier period, each edge followed by its ringing.
///
///     V_dc/(pi f T) [min(1, 1/(pi f t_rise)) + min(1, 1/(pi f t_fall))] + 4 f_sw |V_r(f)|
///
/// with V_r of ringing_spectrum for a step of V_dc.
///
/// Validity  f >= f_sw for one carrier period that repeats; lines beside the carrier's harmonics
///           share what this allows to all of them.
/// Source    derived, as above.
/// \throws std::invalid_argument for an undefined source or a frequency that is not positive.
Voltage harmonic_envelope(const InverterSource& source, Frequency frequency);

}  // namespace ohmdrag::voltage

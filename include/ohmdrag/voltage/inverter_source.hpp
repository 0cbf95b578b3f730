#pragma once

#include <optional>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/waveform.hpp"

/// The common-mode waveform of a two-level three-phase inverter: ramps where its legs switch, each
/// followed by the ringing of the source.
namespace ohmdrag::voltage {

struct InverterSource {
  Voltage dc_link;    ///< V_dc > 0
  Frequency carrier;  ///< f_sw > 0
  Time rise;          ///< of a leg that goes up, 0-100 %, > 0, at most a carrier period
  Time fall;          ///< of a leg that goes down, likewise
  ModulationKind modulation = ModulationKind::sine_triangle;
  std::optional<Ringing> ringing;
};

/// One carrier period: each leg ramps around the times of carrier_staircase; ramps that overlap add
/// up. Every edge of a leg rings from the end of its ramp on, with the sign of the edge:
/// share * V_dc/3 * exp(-pi f_r t/Q) sin(2 pi f_r t).
///
/// Validity  carrier much faster than the fundamental; uniform common mode, two levels; no dead
///           time. The period repeats unchanged, so lines beside the carrier's harmonics are not in
///           it: fundamental_waveform has them.
/// Limits    M = 0: a trapezoid of V_dc, width half a period.
/// Source    derived.
///
/// \throws std::invalid_argument as carrier_staircase; if a rise or fall is not positive or longer
///         than the period; for an undefined ringing.
Waveform carrier_waveform(const InverterSource& source, double modulation, double angle_rad);

struct FundamentalWaveform {
  Waveform waveform;
  int carrier_periods;  ///< in one fundamental period
  double ratio;         ///< carrier over electrical frequency as asked for
  Frequency carrier;    ///< used: carrier_periods times the electrical frequency
};

/// A whole fundamental period, one carrier period after another, each with the references at its
/// middle (regular sampling once a carrier period).
///
/// The carrier must be a multiple of the electrical frequency for the wave to repeat: it is moved
/// to the nearest one, as `carrier` and `ratio` say. A leg that stays high or low for whole carrier
/// periods (M above 1) changes over at the ends of those periods.
///
/// Validity  a ratio of at least 6: below, the staircase of a period no longer follows the sines.
/// Source    derived.
///
/// \throws std::invalid_argument as carrier_waveform; for a ratio below 6 or above 1e5 or an
/// electrical
///         frequency that is not positive.
FundamentalWaveform fundamental_waveform(const InverterSource& source, double modulation,
                                         Frequency electrical_frequency);

/// \throws std::invalid_argument unless the link, the carrier, rise and fall are positive, the
/// ramps
///         no longer than a carrier period, and the ringing defined.
void require_defined(const InverterSource& source);

}  // namespace ohmdrag::voltage

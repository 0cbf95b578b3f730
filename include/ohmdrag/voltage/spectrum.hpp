#pragma once

#include <span>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/path.hpp"
#include "ohmdrag/voltage/waveform.hpp"

/// Lines of the shaft voltage under a common mode that repeats. Not an emission, not a limit.
namespace ohmdrag::voltage {

/// A harmonic of the shaft voltage (peak).
struct SpectrumLine {
  Frequency frequency;
  Voltage without_path;
  Voltage with_path;
};

/// All harmonics from the first one up to a frequency:
///
///     without = BVR |c_n|,   with = BVR |c_n a(n/T)|
///
/// Validity  as attenuation(); above 1 MHz good for +-6 dB (uniform common mode). Nulls between the
///           lines move with the modulation: for a statement of the worst case take bins or the
///           envelope of the source.
/// Source    derived.
/// \throws std::invalid_argument for an undefined node, path or waveform, or a frequency below that
///         of the first harmonic.
std::vector<SpectrumLine> spectrum(const ShaftNode& node, const MaybePath& path,
                                   const Waveform& waveform, Frequency up_to);

/// Part of the frequency axis with its largest lines, which need not be the same line.
struct SpectrumBin {
  Frequency from;
  Frequency to;  ///< the next bin's `from`
  Voltage without_path;
  Voltage with_path;
};

/// The lines in equal parts of a decade, from the first line on; parts without a line are left out.
/// \param lines  rising in frequency, all above 0
/// \throws std::invalid_argument if per_decade is not positive.
std::vector<SpectrumBin> binned(std::span<const SpectrumLine> lines, int per_decade = 10);

}  // namespace ohmdrag::voltage

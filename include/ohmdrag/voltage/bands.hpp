#pragma once

#include <string>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/path.hpp"

/// What a path does to the shaft voltage in a frequency band. Not an emission, not a limit.
namespace ohmdrag::voltage {

struct Band {
  std::string name;
  Frequency from;  ///< > 0
  Frequency to;    ///< >= from
};

struct BandReduction {
  double reduction_dB;   ///< smallest in the band; negative: amplified; infinite for Z = 0
  Frequency weakest_at;  ///< where that is
};

/// The smallest reduction of the shaft voltage in the band against the shaft without a path.
///
/// Without films |a| has one maximum, at w^2 L C = (1 + sqrt(1 + 2 R^2 C/L))/2, C = C_T + C_across;
/// the weakest frequency is that one if it lies in the band, else the worse end. With films it is
/// sought (60 places a decade, then refined).
///
/// Validity  as attenuation; above 1 MHz good for +-6 dB (uniform common mode).
/// Limits    0 dB without a path.
/// Source    derived.
/// \throws std::invalid_argument for an undefined band, node or path.
BandReduction band_reduction(const ShaftNode& node, const MaybePath& path, const Band& band);

}  // namespace ohmdrag::voltage

#pragma once

#include <string>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"
#include "ohmdrag/voltage/path.hpp"

/// What an element does to the shaft voltage, as a sentence.
namespace ohmdrag::voltage {

enum class Effect {
  no_path,          ///< nothing connects the shaft
  leaves_standing,  ///< voltage stands between the edges
  leaves_spikes,    ///< only spikes at the edges and the oscillation remain
  removes_both,     ///< the MHz oscillation is gone too
};

/// The effect by what is held (a tenth of the crest without a path) and by the attenuation at the
/// oscillation (-20 dB). The limits only choose words; they move no number.
///
/// \param oscillation  frequency of the ringing of the edges, or one that stands for it
/// \throws std::invalid_argument as held_voltage and attenuation.
Effect effect(const ShaftNode& node, const MaybePath& path, const Carrier& carrier,
              Frequency oscillation);

/// The effect with its numbers in a sentence. Further ones say what sets the rest: above the corner
/// of path.hpp the inductance (where the oscillation lies above it, that more force buys nothing
/// here), or a film, with the caution that a film depends on the level.
std::string effect_in_words(const ShaftNode& node, const MaybePath& path, const Carrier& carrier,
                            Frequency oscillation);

}  // namespace ohmdrag::voltage

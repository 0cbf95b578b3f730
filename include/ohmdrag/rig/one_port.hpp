#pragma once

#include <optional>
#include <string_view>

#include "ohmdrag/rig/impedance_sweep.hpp"

namespace ohmdrag::rig {

/// Impedance out of a network file of one port.
struct OnePort {
  Sweep sweep;
  /// What the instrument measured a reflection against; none: the file holds Z or Y.
  std::optional<Resistance> reference;
};

/// The text of a Touchstone file of one port, version 1, as impedance.
///
/// Form      comments behind !; an option line `# unit parameter format R n` (Hz, kHz, MHz or GHz;
/// S,
///           Y or Z; MA, DB or RI; any order, any case; left out: GHz S MA R 50); then a frequency
///           and a pair of numbers a line, angles in degrees. Z and Y are normalised to n ohm.
///
///     S  Z = n (1 + S)/(1 - S)      Z  n z      Y  n / y
///
/// Source    Touchstone File Format Specification, Rev 1.1, EIA/IBIS Open Forum, as quoted in a
///           public repository.
/// \throws std::invalid_argument, with the line: H or G, more ports, version 2, a word that is none
///         of these, frequencies that do not rise, a cell that is no number, a total reflection
OnePort one_port_of(std::string_view text);

}  // namespace ohmdrag::rig

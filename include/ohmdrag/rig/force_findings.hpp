#pragma once

#include <optional>
#include <string>

#include "ohmdrag/rig/force_fit.hpp"
#include "ohmdrag/rig/run_findings.hpp"

namespace ohmdrag::rig {

/// A run over force as its files say it.
struct ForceMeasurement {
  ForceRun run;
  std::string contact;             ///< entry that the result is for
  std::optional<Length> diameter;  ///< of the shaft; an entry of a ring needs it
  std::string signal_words;  ///< frequency and level of the impedance, as stated; may be empty
};

/// The fit of a run over force, in words and figures.
/// \param head  what the run is
/// \throws std::invalid_argument as fit_force()
RunFindings force_findings(RunFindings head, const ForceMeasurement& measured);

}  // namespace ohmdrag::rig

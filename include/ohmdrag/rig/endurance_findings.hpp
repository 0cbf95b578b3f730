#pragma once

#include <optional>
#include <string>

#include "ohmdrag/rig/endurance_fit.hpp"
#include "ohmdrag/rig/run_findings.hpp"

namespace ohmdrag::rig {

/// What a case may take from an endurance run, and what a further run is to prove.
struct EnduranceUse {
  std::string contact;  ///< id of the entry in a case; empty: none is written
  std::optional<LineForce> line_force = {};
  std::optional<Length> diameter = {};
  bool force_held = false;  ///< the rig presses with the same force throughout
  int in_series = 1;        ///< contacts in each reading, which was divided by their number
  std::optional<double> share = {};  ///< of all parts that has to stay below the limit
};

/// Figures, tables and entries of a fit, in words. Numbers in tables are SI.
RunFindings endurance_findings(RunFindings head, const EnduranceRun& run, const EnduranceFit& fit,
                               const EnduranceUse& use);

}  // namespace ohmdrag::rig

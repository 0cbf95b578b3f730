#pragma once

#include <optional>
#include <string>

#include "ohmdrag/rig/run_findings.hpp"
#include "ohmdrag/rig/sump_fit.hpp"

namespace ohmdrag::rig {

/// What a reader needs to know of the heat of a warm-up.
struct SumpHeatSource {
  std::string words;         ///< where it came from
  Power mean;                ///< zero where it is unknown
  double uncertainty = 0.0;  ///< standard, over the heat
};

/// The findings of a sump that warmed up or cooled.
/// \param head  what the run is
RunFindings sump_findings(RunFindings head, const SumpHeatSource& heat,
                          const std::optional<SumpRun::AirStream>& air, const SumpFit& fit);

}  // namespace ohmdrag::rig

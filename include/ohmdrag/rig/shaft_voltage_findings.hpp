#pragma once

#include <string>

#include "ohmdrag/rig/run_findings.hpp"
#include "ohmdrag/rig/shaft_voltage_fit.hpp"

namespace ohmdrag::rig {

/// The findings of a shaft that an oscilloscope watched.
/// \param head  what the run is
/// \param at    speed and temperatures in words, of what the entries are valid for; may be empty
RunFindings shaft_voltage_findings(RunFindings head, const std::string& at,
                                   const ShaftVoltageRun& run, const ShaftVoltageFit& fit);

}  // namespace ohmdrag::rig

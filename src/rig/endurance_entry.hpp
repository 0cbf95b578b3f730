#pragma once

#include "ohmdrag/rig/endurance_findings.hpp"

namespace ohmdrag::rig {

/// The resistance of a contact entry, as data/contacts.toml names it: level with its spread and
/// scatter where force and diameter are stated, rise over the service where the force was held.
void add_entries(RunFindings& out, const EnduranceRun& run, const EnduranceFit& fit,
                 const EnduranceUse& use);

}  // namespace ohmdrag::rig

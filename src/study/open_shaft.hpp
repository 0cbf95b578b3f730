#pragma once

#include "study/ensemble.hpp"

namespace ohmdrag::study {

/// The shaft of a variant whose grounding contact has opened, at its worst operating point: the
/// edge of the legs that a verdict counts and the voltage held, as the comparison of the variants
/// has them.
struct OpenShaft {
  Interval edge_V, held_V;
};

/// Of a variant that differs from an ungrounded baseline by its contact alone.
OpenShaft open_shaft_of_baseline(const Ensemble& ensemble);
/// Of any variant, draw by draw.
OpenShaft open_shaft_of(const Ensemble& ensemble, std::size_t variant);

}  // namespace ohmdrag::study

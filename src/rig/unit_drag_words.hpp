#pragma once

#include <string>

#include "ohmdrag/rig/unit_drag_fit.hpp"

namespace ohmdrag::rig {

/// What the figures of a fit do not say by themselves: notes and warnings.
void say_what_it_means(const UnitDragRun& run, UnitDragFit& fit);

/// \param squares  of what is left over, over those of the stated noise
std::string beyond_stated_noise(double squares);

}  // namespace ohmdrag::rig

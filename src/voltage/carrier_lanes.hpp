#pragma once

#include "ohmdrag/numerics/lane_width.hpp"
#include "ohmdrag/voltage/carrier_places.hpp"
#include "voltage/step_modes.hpp"

/// What carrier periods leave on the shaft, eight of them side by side. Kernel of the held voltage;
/// SI throughout.
namespace ohmdrag::voltage {

/// \throws std::invalid_argument
void require_defined(const Carrier& carrier);

/// The largest |v| before the next edge over all places, after a discharge at the worst hold or
/// without one.
///
/// The same bits at every width of vector.
///
/// \pre  the modes forget, and there are any
double largest_held_V(const StepModes& modes, const CarrierPlaces& places, bool after_discharge,
                      numerics::LaneWidth width);

}  // namespace ohmdrag::voltage

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/rig/endurance_fit.hpp"

namespace ohmdrag::rig {

/// What the torque loses in a decade of hours, over what it is at the first hour after the begin,
/// with the 95 % interval: a straight line over lg t in each specimen, the lines as a sample.
/// None with a note where the torque is not measured over a decade.
std::optional<Interval> torque_fall(const EnduranceRun& run, std::vector<std::string>& notes);

}  // namespace ohmdrag::rig

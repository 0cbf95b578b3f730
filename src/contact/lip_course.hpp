#pragma once

#include <vector>

#include "ohmdrag/contact/force_loss.hpp"
#include "ohmdrag/numerics/lane_width.hpp"

namespace ohmdrag::contact {

/// What is left of a lip's forces in the middle of equal steps of an age, without wear.
struct LipCourse {
  std::vector<double> spring;  ///< share
  std::vector<double> rubber;  ///< share, softened by the temperature
};

/// The steps side by side; lip_force() to rounding, the same bits at every width of vector.
/// \pre lip_force() accepts the lip
LipCourse lip_course(const LipForce& lip, Time age, Temperature temperature, int steps,
                     numerics::LaneWidth width);

}  // namespace ohmdrag::contact

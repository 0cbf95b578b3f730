#pragma once

#include <string>
#include <vector>

#include "ohmdrag/rig/force_fit.hpp"

namespace ohmdrag::rig {

/// A reading in logarithms.
struct LogReading {
  std::size_t point = 0;  ///< of the run
  double log_force = 0.0;
  double value = 0.0;  ///< SI, of one element, lead or tare still in it
  std::string specimen;
};

/// The regression of one quantity.
/// \param log_reference  of the force
/// \param off            lead or tare of one element, SI, and its standard error
/// \throws std::invalid_argument if a reading less `off` is not positive, or for too few readings
PowerOfForce power_of_force(const std::vector<LogReading>& readings, double log_reference,
                            double off, double off_error);

}  // namespace ohmdrag::rig

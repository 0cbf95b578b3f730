#pragma once

#include <string>

#include "study/explain_parts.hpp"

namespace ohmdrag::study {

/// A bearing somewhere on a duty.
struct ExplainedRolling {
  const Nominal& nominal;
  std::size_t bearing = 0;
  AngularVelocity speed;
  Torque torque;
  std::string tail;  ///< of the symbols
};

/// Loads, equivalent load and basic rating life there.
/// \return the symbol of the basic rating life, h
std::string explain_rating_life(const ExplainedRolling& rolling, Chain& chain);

}  // namespace ohmdrag::study

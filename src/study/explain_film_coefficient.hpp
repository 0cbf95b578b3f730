#pragma once

#include <string>

#include "study/explain_heat.hpp"

namespace ohmdrag::study {

/// One side of a shaft, in oil or in air.
struct ExplainedSide {
  const ExplainedRunning& running;
  const component::ShaftSystem& system;
  const ExplainedShaft& shaft;
  std::string theta;  ///< symbol of the fluid's temperature, degC
  bool wet = true;
};

/// How the side gives off its heat.
/// \param film  as the heat network has it
/// \return the symbol of the film coefficient
std::string explain_film_coefficient(const ExplainedSide& side, HeatTransferCoefficient film,
                                     Chain& chain);

}  // namespace ohmdrag::study

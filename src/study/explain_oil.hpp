#pragma once

#include <string>

#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/study/case.hpp"
#include "study/explain_chain.hpp"

namespace ohmdrag::study {

/// Symbols of an oil at a temperature.
struct ExplainedOil {
  std::string kinematic;  ///< mm2/s
  std::string density;    ///< kg/m3
  std::string expansion;  ///< since 15 degC
  std::string dynamic;    ///< Pa s
};

/// Viscosity and density of the oil at a temperature, by Walther's law and the expansion of oils.
/// \param theta  symbol of the temperature, degC
/// \param tail   of the symbols, "_seal"
/// \param where  "at the contact"
ExplainedOil explain_oil(const material::LubricantProperties& oil, const Lubricant& entry,
                         Temperature temperature, const std::string& theta, const std::string& tail,
                         const std::string& where, Chain& chain);

}  // namespace ohmdrag::study

#pragma once

#include <string>
#include <vector>

#include "study/explain_parts.hpp"

namespace ohmdrag::study {

/// Symbols of a shaft that its heat flow begins with.
struct ExplainedShaft {
  std::size_t index = 0;
  std::string id;
  std::string tail;      ///< of the place or variant
  std::string omega;     ///< rad/s
  std::string diameter;  ///< m

  /// Tail of what is the shaft's own.
  std::string own() const { return '_' + symbol_of(id) + tail; }
};

/// Symbols of the heat flow by contact.
struct ExplainedHeat {
  std::vector<std::string> idle;               ///< degC, without friction
  std::vector<std::vector<std::string>> rise;  ///< K/W, of the first by a watt in the second
};

/// Films, fins, rods and bands of a shaft, the balance of its nodes, and what it makes of a watt in
/// each contact. The nodes are solved by elimination, line by line.
ExplainedHeat explain_heat(const ExplainedRunning& running, std::size_t shaft,
                           const ExplainedShaft& symbols, const component::ThermalNetwork& network,
                           Chain& chain);

}  // namespace ohmdrag::study

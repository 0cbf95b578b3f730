#pragma once

#include <functional>
#include <string>
#include <vector>

namespace ohmdrag::study {

/// Numbers that are not drawn apart from each other.
struct Correlation {
  std::vector<std::string> keys;  ///< each once
  std::vector<double> matrix;     ///< of their normal scores, row by row
  bool of_scatter = false;        ///< of what differs from part to part; else of what is not known
};

/// What of a correlation is left among the keys that are kept.
Correlation correlation_among(const Correlation& all,
                              const std::function<bool(const std::string& key)>& kept);

}  // namespace ohmdrag::study

#pragma once

#include <string>
#include <vector>

#include "ohmdrag/quantity/uncertain.hpp"

namespace ohmdrag::report {

/// A place of the result document where a sealed number stands all the same.
struct Leak {
  std::string key;   ///< of the number
  std::string path;  ///< "variants.1.service.0.wear_um.mid"
};

/// A last look at what is about to be written: figures that equal a sealed number in one of its
/// units, and texts that spell it. Numbers of one or two digits are not looked for among the
/// figures: they stand everywhere.
/// \param document  in JSON
std::vector<Leak> leaks(const std::string& document, const std::vector<UncertainNumber>& sealed);

}  // namespace ohmdrag::report

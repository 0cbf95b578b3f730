#include "ohmdrag/component/modulus_bends.hpp"

#include <algorithm>

namespace ohmdrag::component {

std::vector<double> modulus_bends_K(const ShaftSystem& shaft) {
  std::vector<double> found;
  for (const ShaftContact& contact : shaft.contacts)
    if (contact.softening && contact.body_in_oil)
      for (const contact::ModulusPoint& point : contact.softening->modulus)
        found.push_back(point.temperature.value());
  std::ranges::sort(found);
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

}  // namespace ohmdrag::component

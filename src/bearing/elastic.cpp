#include "ohmdrag/bearing/elastic.hpp"

#include <stdexcept>

namespace ohmdrag::bearing {

namespace {

auto compliance(const Elastic& body) {
  if (!(body.young_modulus > Pressure{}))
    throw std::invalid_argument("elastic body: Young's modulus must be positive");
  if (!(body.poisson >= 0.0 && body.poisson < 1.0))
    throw std::invalid_argument("elastic body: Poisson's ratio must be in [0, 1)");
  return (1.0 - body.poisson * body.poisson) / body.young_modulus;
}

}  // namespace

Pressure reduced_modulus(const Elastic& one, const Elastic& other) {
  return 2.0 / (compliance(one) + compliance(other));
}

}  // namespace ohmdrag::bearing

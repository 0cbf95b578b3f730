#pragma once

#include <vector>

#include "ohmdrag/component/shaft_network.hpp"

namespace ohmdrag::component {

/// The oil temperatures in K at which the modulus of a body in oil bends, rising, each once: what a
/// table of this shaft over the oil must not smooth over.
std::vector<double> modulus_bends_K(const ShaftSystem& shaft);

}  // namespace ohmdrag::component

#include "ohmdrag/voltage/path_geometry.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::voltage {

namespace {

// Vacuum permeability over 2 pi, the factor common to all partial inductances.
constexpr double henry_per_metre = 2e-7;

Inductance per_length(double factor, Length length) {
  return Inductance::from_value(henry_per_metre * factor * length.value());
}

}  // namespace

Inductance strap_inductance(Length length, Length width, Length thickness) {
  if (!(width > Length{} && thickness > Length{} && length > width + thickness))
    throw std::invalid_argument("strap: needs positive lengths and length > width + thickness");
  const double slimness = length / (width + thickness);
  return per_length(std::log(2.0 * slimness) + 0.5 + 0.2235 / slimness, length);
}

Inductance strap_loop_share(Length length, Length width) {
  if (!(width > Length{} && length > width))
    throw std::invalid_argument("strap: needs positive lengths and length > width");
  return per_length(std::log(2.0 * double(length / width)), length);
}

Inductance wire_inductance(Length length, Length diameter) {
  const Length radius = diameter / 2.0;
  if (!(radius > Length{} && length >= 10.0 * radius))
    throw std::invalid_argument("wire: needs a positive diameter and a length of five diameters");
  return per_length(std::log(2.0 * double(length / radius)) - 1.0, length);
}

Inductance wire_pair_inductance(Length length, Length spacing, Length wire_radius) {
  if (!(length > Length{} && wire_radius > Length{} && spacing > 2.0 * wire_radius))
    throw std::invalid_argument("wire pair: needs positive lengths and wires that do not touch");
  return per_length(2.0 * std::log(double(spacing / wire_radius)), length);
}

}  // namespace ohmdrag::voltage

#include "ohmdrag/voltage/path_geometry.hpp"

#include <cmath>
#include <numbers>
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

Inductance wire_inductance_at_direct_current(Length length, Length diameter) {
  // The field inside the wire adds a quarter of the factor.
  return wire_inductance(length, diameter) + per_length(0.25, length);
}

Inductance shaft_inductance(Length length, InductancePerLength per_length_of_shaft) {
  if (!(length >= Length{} && per_length_of_shaft >= InductancePerLength{}))
    throw std::invalid_argument("shaft: length and inductance must not be negative");
  return per_length_of_shaft * length;
}

Length skin_depth(Resistivity resistivity, double relative_permeability, Frequency frequency) {
  if (!(resistivity > Resistivity{} && relative_permeability > 0.0 && frequency > Frequency{}))
    throw std::invalid_argument(
        "skin depth: resistivity, permeability and frequency must be positive");
  constexpr double vacuum_permeability_H_m = 2.0 * std::numbers::pi * henry_per_metre;
  return Length::from_value(
      std::sqrt(resistivity.value() / (std::numbers::pi * frequency.value() *
                                       vacuum_permeability_H_m * relative_permeability)));
}

Inductance wire_pair_inductance(Length length, Length spacing, Length wire_radius) {
  if (!(length > Length{} && wire_radius > Length{} && spacing > 2.0 * wire_radius))
    throw std::invalid_argument("wire pair: needs positive lengths and wires that do not touch");
  return per_length(2.0 * std::log(double(spacing / wire_radius)), length);
}

}  // namespace ohmdrag::voltage

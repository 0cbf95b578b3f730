#pragma once

#include <cmath>
#include <stdexcept>

#include "ohmdrag/quantity/quantities.hpp"

/// Arithmetic of a worn edge for inner loops. The laws, their sources and ranges are in
/// lip_wear.hpp.
namespace ohmdrag::contact {

/// Worn section K F' s.
/// \throws std::invalid_argument for a negative wear rate, line force or way.
inline double line_wear_m2(WearRate wear_rate, LineForce line_force, Length way) {
  if (!(wear_rate.value() >= 0.0))
    throw std::invalid_argument("wear: the wear rate must not be negative");
  if (!(line_force.value() >= 0.0))
    throw std::invalid_argument("wear: the line force must not be negative");
  if (!(way.value() >= 0.0))
    throw std::invalid_argument("wear: the sliding way must not be negative");
  return wear_rate.value() * line_force.value() * way.value();
}

/// Width of the flat of a wedge after a worn section.
/// \param per_depth  width_per_depth()
inline double worn_width_m(double before_m, double per_depth, double worn_m2) {
  return std::sqrt(before_m * before_m + 2.0 * per_depth * worn_m2);
}

}  // namespace ohmdrag::contact

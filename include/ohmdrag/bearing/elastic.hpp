#pragma once

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

/// Isotropic elastic solid.
struct Elastic {
  Pressure young_modulus;  ///< E > 0
  double poisson;          ///< 0 <= nu < 1
};

/// Reduced modulus of two bodies in contact.
///
///     E' = 2 / [(1 - nu1^2)/E1 + (1 - nu2^2)/E2]          [Pa]
///
/// For equal bodies E' = E/(1 - nu^2). Twice the E* of other texts.
///
/// Source  B. J. Hamrock, Lubrication of Machine Elements, NASA RP-1126 (1984).
///
/// \throws std::invalid_argument if a modulus is not positive or a Poisson number not in [0, 1).
Pressure reduced_modulus(const Elastic& one, const Elastic& other);

}  // namespace ohmdrag::bearing

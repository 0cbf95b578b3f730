#pragma once

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::component {

/// "So many watts at such a speed", scaled by a stated exponent.
///
///     T = (P_0/omega_0) (|omega|/omega_0)^e,   P = T |omega|
///
/// Sign: torque has the sign of the speed, it opposes rotation.
///
/// Validity  that of the statement; e from -1 (constant power) over 0 (constant torque) to 2.
/// Limits    omega = omega_0: P_0. omega = 0: P = 0 and a finite torque: P_0/omega_0 for e = 0,
/// else
///           0 (for e < 0 the formula has no limit there).
/// Source    the statement; the scaling is assumed.
struct StatedLoss {
  Power power;             ///< P_0 >= 0
  AngularVelocity at;      ///< omega_0 > 0
  double torque_exponent;  ///< e in [-1, 2]
};

struct StatedDrag {
  Torque torque;
  Power power;
};

/// \throws std::invalid_argument for members outside the ranges they name.
StatedDrag stated_drag(const StatedLoss& loss, AngularVelocity speed);

}  // namespace ohmdrag::component

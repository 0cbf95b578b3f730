#pragma once

#include <array>
#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::contact {

/// Dry friction of PTFE on steel over pressure and speed.
///
///     mu = k C(u) p^(-0.2),   p [lbf/in2]
///     C: slow at u <= 0.01 m/s, middle at 0.05 m/s, fast at u >= 0.5 m/s,
///        linear in lg u between
///
/// The coefficients are those of p in lbf/in2, as the source prints them; times 0.3696 for p in
/// MPa. Friction rises with speed, the opposite of a lip in oil.
///
/// Validity  unfilled friction within 0.016 to 0.36; pressures below the least one take its
///           friction; both flagged. Dry; temperature is not in the law.
/// Limits    u -> 0: the slow value, finite. u -> infinity: the fast value.
/// Accuracy  +-0.03, +-0.10 and +-0.15 on the three coefficients as printed: a quarter to a third.
/// Source    R. B. Lewis, as quoted on a trade page; the range of 0.016 to 0.36 as quoted in
/// another
///           public text. The interpolation in lg u is assumed. Factor of fillers from memory.
struct PtfeFriction {
  double slow_coefficient;    ///< C > 0; 0.12 as printed
  double middle_coefficient;  ///< C > 0; 0.35 as printed
  double fast_coefficient;    ///< C > 0; 0.45 as printed
  double filled_factor;       ///< k > 0: 1 unfilled, 1.0 to 1.5 filled
  Pressure least_pressure;    ///< > 0, about 0.05 MPa
};

/// Speeds at which the law bends.
inline constexpr std::array ptfe_bends{Speed::from_value(0.01), Speed::from_value(0.05),
                                       Speed::from_value(0.5)};

struct PtfeFrictionPoint {
  double coefficient;  ///< mu
  std::vector<numerics::RangeFlag> flags;
};

/// \throws std::invalid_argument for members outside the ranges they name.
void check(const PtfeFriction& law);

/// \param pressure       mean of the contact, F'/b for a lip; >= 0
/// \param surface_speed  its sign does not matter
/// \throws std::invalid_argument for members outside the ranges they name, a negative pressure, or
///         an undefined speed.
PtfeFrictionPoint ptfe_friction(const PtfeFriction& law, Pressure pressure, Speed surface_speed);

}  // namespace ohmdrag::contact

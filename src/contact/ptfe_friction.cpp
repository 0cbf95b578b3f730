#include "ohmdrag/contact/ptfe_friction.hpp"

#include <cmath>
#include <optional>
#include <stdexcept>

#include "ohmdrag/contact/friction_kernel.hpp"

namespace ohmdrag::contact {

namespace {

using numerics::flag_outside;

constexpr auto ptfe = "dry friction of PTFE";

}  // namespace

PtfeConstants ptfe_constants(const PtfeFriction& law) {
  return {.slow_coefficient = law.slow_coefficient,
          .middle_coefficient = law.middle_coefficient,
          .fast_coefficient = law.fast_coefficient,
          .filled_factor = law.filled_factor,
          .least_pressure_Pa = law.least_pressure.value()};
}

void check(const PtfeFriction& law) {
  if (!(law.slow_coefficient > 0.0 && law.middle_coefficient > 0.0 && law.fast_coefficient > 0.0 &&
        law.filled_factor > 0.0 && law.least_pressure.value() > 0.0))
    throw std::invalid_argument("PTFE friction: every parameter must be positive");
}

PtfeFrictionPoint ptfe_friction(const PtfeFriction& law, Pressure pressure, Speed surface_speed) {
  check(law);
  if (!(pressure.value() >= 0.0))
    throw std::invalid_argument("PTFE friction: pressure must not be negative");
  const double u_m_s = std::abs(surface_speed.value());
  if (!(u_m_s >= 0.0)) throw std::invalid_argument("PTFE friction: the speed is undefined");

  const double unfilled =
      unfilled_ptfe_friction<numerics::LibraryMath>(ptfe_constants(law), pressure.value(), u_m_s);

  PtfeFrictionPoint point{.coefficient = law.filled_factor * unfilled, .flags = {}};
  if (const auto flag =
          flag_outside(ptfe, "pressure, MPa, replaced by the least one", pressure.value() * 1e-6,
                       law.least_pressure.value() * 1e-6, numerics::no_limit))
    point.flags.push_back(*flag);
  if (const auto flag =
          flag_outside(ptfe, "friction coefficient without fillers", unfilled, 0.016, 0.36))
    point.flags.push_back(*flag);
  return point;
}

}  // namespace ohmdrag::contact

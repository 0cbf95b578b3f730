#include "ohmdrag/contact/ptfe_friction.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

using numerics::flag_outside;

constexpr auto ptfe = "dry friction of PTFE";
constexpr double slow_m_s = ptfe_bends[0].value();
constexpr double middle_m_s = ptfe_bends[1].value();
constexpr double fast_m_s = ptfe_bends[2].value();

double pounds_per_square_inch(Pressure pressure) {
  constexpr double pound_force_N = 4.4482216152605;
  constexpr double inch_m = 0.0254;
  return pressure.value() * inch_m * inch_m / pound_force_N;
}

double coefficient_at(const PtfeFriction& law, double speed_m_s) {
  const double u = std::clamp(speed_m_s, slow_m_s, fast_m_s);
  return u <= middle_m_s ? std::lerp(law.slow_coefficient, law.middle_coefficient,
                                     std::log(u / slow_m_s) / std::log(middle_m_s / slow_m_s))
                         : std::lerp(law.middle_coefficient, law.fast_coefficient,
                                     std::log(u / middle_m_s) / std::log(fast_m_s / middle_m_s));
}

}  // namespace

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

  const Pressure used = std::max(pressure, law.least_pressure);
  const double unfilled = coefficient_at(law, u_m_s) * std::pow(pounds_per_square_inch(used), -0.2);

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

#include "ohmdrag/component/gear_forces.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::component {

namespace {

constexpr double quarter_pi = 0.25 * std::numbers::pi;

Force magnitude(Force a, Force b) { return Force::from_value(std::hypot(a.value(), b.value())); }

}  // namespace

GearForces gear_forces(Torque torque, Length pitch_diameter, double pressure_angle,
                       double helix_angle) {
  if (!std::isfinite(torque.value()) || !(pitch_diameter.value() > 0.0))
    throw std::invalid_argument("gear forces: torque finite and pitch diameter positive");
  if (!(pressure_angle > 0.0 && pressure_angle < quarter_pi && std::abs(helix_angle) < quarter_pi))
    throw std::invalid_argument("gear forces: angles must be below 45 degrees");
  const Force tangential = Force::from_value(2.0 * torque.value() / pitch_diameter.value());
  const Force size = tangential < Force{} ? -tangential : tangential;
  return {.tangential = tangential,
          .radial = size * (std::tan(pressure_angle) / std::cos(helix_angle)),
          .axial = tangential * std::tan(helix_angle)};
}

BearingReactions bearing_reactions(const GearForces& forces, const GearSeat& seat) {
  if (!(seat.span.value() > 0.0 && seat.pitch_diameter.value() > 0.0 &&
        std::isfinite(seat.position.value())))
    throw std::invalid_argument("gear seat: span and pitch diameter must be positive");
  const double share = (seat.position / seat.span);
  const double lever = (0.5 * seat.pitch_diameter / seat.span);
  const Force second_t = share * forces.tangential;
  const Force second_r = share * forces.radial + lever * forces.axial;
  const Force axial = forces.axial < Force{} ? -forces.axial : forces.axial;
  return {.first = {magnitude(forces.tangential - second_t, forces.radial - second_r),
                    seat.first_locates ? axial : Force{}},
          .second = {magnitude(second_t, second_r), seat.first_locates ? Force{} : axial}};
}

}  // namespace ohmdrag::component

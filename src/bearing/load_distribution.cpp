#include "ohmdrag/bearing/load_distribution.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "bearing/ball_loads.hpp"
#include "bearing/ring_shift.hpp"
#include "ohmdrag/bearing/hertz.hpp"
#include "ohmdrag/bearing/load_distributions.hpp"

namespace ohmdrag::bearing {

namespace {

double contact_stiffness(const ContactRadii& radii, Pressure modulus) {
  const Force unit = Force::from_value(1.0);
  return std::pow(contact_ellipse(radii, modulus, unit).approach.value(), -1.5);
}

}  // namespace

double ball_stiffness_N_per_m15(const BallBearing& bearing, const Elastic& steel) {
  const Pressure modulus = reduced_modulus(steel, steel);
  const double inner = contact_stiffness(inner_radii(bearing, bearing.contact_angle), modulus);
  const double outer = contact_stiffness(outer_radii(bearing, bearing.contact_angle), modulus);
  return std::pow(std::pow(inner, -2.0 / 3.0) + std::pow(outer, -2.0 / 3.0), -1.5);
}

namespace {

void require_loaded(const BallBearing& bearing, Force radial, Force axial) {
  require_valid(bearing);
  if (bearing.contact_angle > 0.0 && bearing.clearance > Length{})
    throw std::invalid_argument(
        "load distribution: the contact angle already contains the clearance; state one of them");
  const double load_N = std::hypot(radial.value(), axial.value());
  if (!(load_N > 0.0 && std::isfinite(load_N)))
    throw std::invalid_argument("load distribution: the bearing must carry a finite load");
}

/// A load with the position of the cage under it.
struct Case {
  double radial_N, axial_N;
  double phase;
};

std::vector<Case> cases_over_phase(const BallBearing& bearing, std::span<const AppliedLoad> loads,
                                   int count) {
  if (!(count >= 1))
    throw std::invalid_argument("load distribution: at least one cage position is needed");
  std::vector<Case> cases;
  cases.reserve(loads.size() * std::size_t(count));
  for (const AppliedLoad& load : loads) {
    require_loaded(bearing, load.radial, load.axial);
    for (int i = 0; i < count; ++i)
      cases.push_back(
          {std::abs(load.radial.value()), std::abs(load.axial.value()), (i + 0.5) / (2.0 * count)});
  }
  return cases;
}

/// The balls of one lane.
LoadDistribution distribution(const LoadedRings& rings, const RingShift& shift,
                              const std::vector<RingLanes>& loads_N, std::size_t lane,
                              double phase) {
  const auto count = static_cast<double>(rings.cosines.size());
  const double axial_m = shift.axial_m[lane], radial_m = shift.radial_m[lane];
  LoadDistribution result{
      .balls = {},
      .q_max = Force{},
      .angle_at_q_max = 0.0,
      .loaded = 0,
      .radial_shift = Length::from_value(radial_m),
      .axial_shift = Length::from_value(axial_m),
      .residual = shift.unbalance_N[lane] / std::hypot(rings.radial_N[lane], rings.axial_N[lane])};
  result.balls.reserve(rings.cosines.size());
  for (std::size_t i = 0; i < rings.cosines.size(); ++i) {
    const double along_radius_m = rings.radial_m + radial_m * rings.cosines[i][lane];
    const BallLoad ball{
        .position = 2.0 * std::numbers::pi * (static_cast<double>(i) + phase) / count,
        .load = Force::from_value(loads_N[i][lane]),
        .contact_angle = std::atan2(axial_m, along_radius_m)};
    if (ball.load > Force{}) ++result.loaded;
    if (ball.load > result.q_max) {
      result.q_max = ball.load;
      result.angle_at_q_max = ball.contact_angle;
    }
    result.balls.push_back(ball);
  }
  return result;
}

/// Solves the cases side by side and gives each to `take(rings, shift, loads_N, lane, case)`, in
/// their order; loads by ball and lane.
template <class Take>
void for_each_balance(const BallBearing& bearing, const Elastic& steel,
                      const std::vector<Case>& cases, const Take& take) {
  static const numerics::LaneWidth width = numerics::widest_lanes();
  const double distance_m = groove_centre_distance(bearing).value();
  const auto balls = static_cast<std::size_t>(bearing.balls);
  LoadedRings rings{
      .stiffness_N_per_m15 = ball_stiffness_N_per_m15(bearing, steel),
      .distance_m = distance_m,
      .radial_m = distance_m * std::cos(bearing.contact_angle) - 0.5 * bearing.clearance.value(),
      .radial_N = {},
      .axial_N = {},
      .cosines = std::vector<RingLanes>(balls)};
  std::vector<RingLanes> loads_N(balls);
  RingLanes phases;  // of the cosines
  phases.fill(std::numeric_limits<double>::quiet_NaN());
  const auto turn_cage = [&](std::size_t lane, double phase) {
    if (phase == phases[lane]) return;  // as the load before it in this lane
    const auto same = std::ranges::find(phases, phase);
    for (std::size_t i = 0; i < balls; ++i)
      rings.cosines[i][lane] =
          same != phases.end()
              ? rings.cosines[i][static_cast<std::size_t>(same - phases.begin())]
              : std::cos(2.0 * std::numbers::pi * (static_cast<double>(i) + phase) / bearing.balls);
    phases[lane] = phase;
  };
  for (std::size_t first = 0; first < cases.size(); first += ring_lanes) {
    const std::size_t used = std::min(ring_lanes, cases.size() - first);
    for (std::size_t l = 0; l < ring_lanes; ++l) {
      const Case& here = cases[first + std::min(l, used - 1)];
      rings.radial_N[l] = here.radial_N;
      rings.axial_N[l] = here.axial_N;
      turn_cage(l, here.phase);
    }
    const RingShift shift = balanced_shift(rings, width);
    ball_loads(rings, shift, loads_N, width);
    for (std::size_t l = 0; l < used; ++l) take(rings, shift, loads_N, l, cases[first + l]);
  }
}

std::vector<LoadDistribution> distributions(const BallBearing& bearing, const Elastic& steel,
                                            const std::vector<Case>& cases) {
  std::vector<LoadDistribution> result;
  result.reserve(cases.size());
  for_each_balance(bearing, steel, cases,
                   [&](const LoadedRings& rings, const RingShift& shift,
                       const std::vector<RingLanes>& loads_N, std::size_t lane, const Case& here) {
                     result.push_back(distribution(rings, shift, loads_N, lane, here.phase));
                   });
  return result;
}

}  // namespace

LoadDistribution load_distribution(const BallBearing& bearing, const Elastic& steel, Force radial,
                                   Force axial, double phase) {
  require_loaded(bearing, radial, axial);
  return distributions(bearing, steel, {{std::abs(radial.value()), std::abs(axial.value()), phase}})
      .front();
}

std::vector<LoadDistribution> load_distribution_over_phase(const BallBearing& bearing,
                                                           const Elastic& steel, Force radial,
                                                           Force axial, int count) {
  const AppliedLoad load{radial, axial};
  return distributions(bearing, steel, cases_over_phase(bearing, {&load, 1}, count));
}

std::vector<LoadDistribution> load_distributions_over_phase(const BallBearing& bearing,
                                                            const Elastic& steel,
                                                            std::span<const AppliedLoad> loads,
                                                            int count) {
  return distributions(bearing, steel, cases_over_phase(bearing, loads, count));
}

std::vector<double> ball_loads_N_over_phase(const BallBearing& bearing, const Elastic& steel,
                                            std::span<const AppliedLoad> loads, int count) {
  std::vector<double> result;
  result.reserve(loads.size() * static_cast<std::size_t>(count * bearing.balls));
  for_each_balance(bearing, steel, cases_over_phase(bearing, loads, count),
                   [&](const LoadedRings&, const RingShift&, const std::vector<RingLanes>& loads_N,
                       std::size_t lane, const Case&) {
                     for (const RingLanes& ball : loads_N) result.push_back(ball[lane]);
                   });
  return result;
}

Force stribeck_ball_load(const BallBearing& bearing, Force radial) {
  require_valid(bearing);
  return 4.37 * radial / (bearing.balls * std::cos(bearing.contact_angle));
}

Force stribeck_roller_load(const RollerBearing& bearing, Force radial) {
  if (!(bearing.rollers >= 1))
    throw std::invalid_argument("roller bearing: the number of rollers must be positive");
  return 4.08 * radial / static_cast<double>(bearing.rollers);
}

}  // namespace ohmdrag::bearing

#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "ohmdrag/numerics/lane_width.hpp"

/// How far the rings of a ball bearing shift against each other under load: eight loads side by
/// side. SI throughout.
namespace ohmdrag::bearing {

/// Loads side by side.
inline constexpr std::size_t ring_lanes = 8;
using RingLanes = std::array<double, ring_lanes>;

/// One bearing under eight loads, each with its own position of the cage.
struct LoadedRings {
  double stiffness_N_per_m15;  ///< of a ball between both rings
  double distance_m;           ///< A_0, groove centres at touch
  double radial_m;             ///< A_0 - P_d/2, radial part of it with the rings centred
  RingLanes radial_N, axial_N;
  std::vector<RingLanes> cosines;  ///< of the balls' positions
};

struct RingShift {
  RingLanes axial_m, radial_m;
  RingLanes unbalance_N;  ///< force that is left
};

/// Both shifts in equilibrium: the minimum of a convex energy, by Newton's method with a step that
/// is halved until it gains.
///
/// The same bits at every width of vector.
///
/// \throws std::runtime_error where more than 1e-10 of the load is left.
RingShift balanced_shift(const LoadedRings& rings, numerics::LaneWidth width);

/// Loads of the balls with the rings shifted, in the order of the cosines; 0 for those that do not
/// touch. The same bits at every width of vector.
///
/// \param loads_N  as many as there are balls
void ball_loads(const LoadedRings& rings, const RingShift& shift, std::span<RingLanes> loads_N,
                numerics::LaneWidth width);

}  // namespace ohmdrag::bearing

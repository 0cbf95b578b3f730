#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace ohmdrag::energy {

inline constexpr std::size_t speed_points = 6;  ///< of the polynomial between the nodes

/// Where a speed lies among the nodes: the value there is the weighted sum of as many neighbours.
struct SpeedPlace {
  std::size_t first = 0;
  std::array<double, speed_points> weight{};
};

/// The nodes of speed of a duty, and the place of each of its speeds among them.
///
/// Nodes lie evenly in ln(1 + omega/omega_0), omega_0 a fortieth of the highest speed: friction and
/// convection follow powers of the speed, and what is lost at a crawl weighs little. Standstill is
/// a node of its own.
struct SpeedGrid {
  std::vector<double> node_rad_s;
  std::vector<SpeedPlace> place;  ///< one a speed asked for
};

/// \param speed_rad_s  magnitudes
SpeedGrid speed_grid(std::span<const double> speed_rad_s, std::size_t most_nodes);

}  // namespace ohmdrag::energy

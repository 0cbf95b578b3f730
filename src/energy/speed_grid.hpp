#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace ohmdrag::energy {

inline constexpr std::size_t speed_points = 4;  ///< of the polynomial between the nodes

/// Where a speed lies among the nodes: the value there is the weighted sum of as many neighbours.
struct SpeedPlace {
  std::size_t first = 0;
  std::array<double, speed_points> weight{};
};

/// Where a duty's speeds are solved, and how every one of them is interpolated.
///
/// Friction and convection follow powers of the speed, and what is lost at a crawl weighs little:
/// so everything is laid out over ln(1 + omega/omega_0), omega_0 a fortieth of the highest speed.
/// Solved at few Chebyshev points; through these a polynomial gives the nodes of a fine, even grid,
/// and neighbours of that grid a cubic. Standstill is solved by itself. A duty of few speeds is
/// solved at those.
struct SpeedGrid {
  std::vector<double> solved_rad_s;
  std::size_t nodes = 0;
  std::vector<double> node_of_solved;  ///< [node][solved]: a node is the weighted sum of the solved
  std::vector<SpeedPlace> place;       ///< among the nodes, one a speed asked for
};

/// \param speed_rad_s  magnitudes
SpeedGrid speed_grid(std::span<const double> speed_rad_s);

}  // namespace ohmdrag::energy

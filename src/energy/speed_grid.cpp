#include "energy/speed_grid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ohmdrag::energy {

namespace {

constexpr std::size_t chebyshev_points = 16;
constexpr std::size_t fine_nodes = 64;
// Where free convection hands over to the turning shaft a speed has a corner on the imaginary axis:
// the logarithm must still be one there.
constexpr double speeds_in_logarithm = 400.0;
// Slower than this share of the highest speed a torque is that of this share: friction in a power
// of the speed has a corner at rest, and a crawl takes no energy worth a polynomial.
constexpr double crawl = 4e-4;

/// Weight at t of every point in Lagrange's polynomial.
void lagrange(double t, std::span<const double> at, std::span<double> weight) {
  for (std::size_t p = 0; p < at.size(); ++p) {
    double product = 1.0;
    for (std::size_t q = 0; q < at.size(); ++q)
      if (q != p) product *= (t - at[q]) / (at[p] - at[q]);
    weight[p] = product;
  }
}

/// One node a speed, and no polynomial.
SpeedGrid few_speeds(std::span<const double> speed_rad_s, const std::vector<double>& distinct) {
  SpeedGrid grid{.solved_rad_s = distinct,
                 .nodes = std::max(distinct.size(), speed_points),
                 .node_of_solved = {},
                 .place = {}};
  grid.node_of_solved.assign(grid.nodes * distinct.size(), 0.0);
  for (std::size_t n = 0; n < distinct.size(); ++n)
    grid.node_of_solved[n * distinct.size() + n] = 1.0;
  for (const double speed : speed_rad_s) {
    const auto node =
        static_cast<std::size_t>(std::ranges::lower_bound(distinct, speed) - distinct.begin());
    SpeedPlace place{.first = std::min(node, grid.nodes - speed_points)};
    place.weight[node - place.first] = 1.0;
    grid.place.push_back(place);
  }
  return grid;
}

}  // namespace

SpeedGrid speed_grid(std::span<const double> speed_rad_s) {
  std::vector<double> distinct(speed_rad_s.begin(), speed_rad_s.end());
  std::ranges::sort(distinct);
  distinct.erase(std::unique(distinct.begin(), distinct.end()), distinct.end());
  if (distinct.size() <= chebyshev_points) return few_speeds(speed_rad_s, distinct);

  const std::size_t resting = distinct.front() == 0.0 ? 1 : 0;
  const double scale = distinct.back() / speeds_in_logarithm;
  const auto stretched = [&](double speed) { return std::log1p(speed / scale); };
  const double low = stretched(std::max(distinct[resting], crawl * distinct.back()));
  const double high = stretched(distinct.back());

  SpeedGrid grid;
  std::vector<double> point;
  if (resting) grid.solved_rad_s.push_back(0.0);
  for (std::size_t p = 0; p < chebyshev_points; ++p) {
    point.push_back(-std::cos(std::numbers::pi * (static_cast<double>(p) + 0.5) /
                              static_cast<double>(chebyshev_points)));
    grid.solved_rad_s.push_back(scale *
                                std::expm1(0.5 * (high + low) + 0.5 * (high - low) * point.back()));
  }
  const std::size_t solved = grid.solved_rad_s.size();
  grid.nodes = resting + fine_nodes;
  grid.node_of_solved.assign(grid.nodes * solved, 0.0);
  if (resting) grid.node_of_solved[0] = 1.0;
  const double step = (high - low) / static_cast<double>(fine_nodes - 1);
  for (std::size_t n = 0; n < fine_nodes; ++n)
    lagrange(
        -1.0 + 2.0 * static_cast<double>(n) / static_cast<double>(fine_nodes - 1), point,
        std::span(grid.node_of_solved).subspan((resting + n) * solved + resting, chebyshev_points));

  constexpr std::array<double, speed_points> even{0.0, 1.0, 2.0, 3.0};
  for (const double speed : speed_rad_s) {
    SpeedPlace place;
    if (speed == 0.0) {
      place.weight[0] = 1.0;
    } else {
      const double t = std::max(0.0, (stretched(speed) - low) / step);
      const double first =
          std::clamp(std::floor(t) - 1.0, 0.0, static_cast<double>(fine_nodes - speed_points));
      place.first = resting + static_cast<std::size_t>(first);
      lagrange(t - first, even, place.weight);
    }
    grid.place.push_back(place);
  }
  return grid;
}

}  // namespace ohmdrag::energy

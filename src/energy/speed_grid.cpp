#include "energy/speed_grid.hpp"

#include <algorithm>
#include <cmath>

namespace ohmdrag::energy {

namespace {

/// Lagrange's weights at t of the points 0, 1, 2, ...
std::array<double, speed_points> lagrange(double t) {
  std::array<double, speed_points> weight{};
  for (std::size_t p = 0; p < speed_points; ++p) {
    double product = 1.0;
    for (std::size_t q = 0; q < speed_points; ++q)
      if (q != p)
        product *= (t - static_cast<double>(q)) / (static_cast<double>(p) - static_cast<double>(q));
    weight[p] = product;
  }
  return weight;
}

}  // namespace

SpeedGrid speed_grid(std::span<const double> speed_rad_s, std::size_t most_nodes) {
  std::vector<double> distinct(speed_rad_s.begin(), speed_rad_s.end());
  std::ranges::sort(distinct);
  distinct.erase(std::unique(distinct.begin(), distinct.end()), distinct.end());

  SpeedGrid grid;
  const auto at_node = [&](double speed) {  // one that is a node itself
    const auto node = std::ranges::lower_bound(grid.node_rad_s, speed) - grid.node_rad_s.begin();
    const std::size_t last_first =
        grid.node_rad_s.size() > speed_points ? grid.node_rad_s.size() - speed_points : 0;
    SpeedPlace place{.first = std::min(static_cast<std::size_t>(node), last_first)};
    place.weight[static_cast<std::size_t>(node) - place.first] = 1.0;
    return place;
  };
  if (distinct.size() <= most_nodes) {
    grid.node_rad_s = distinct;
    // The polynomial reads as many nodes as it has points; those beyond weigh nothing.
    while (grid.node_rad_s.size() < speed_points)
      grid.node_rad_s.push_back(grid.node_rad_s.empty() ? 0.0 : grid.node_rad_s.back());
    for (const double speed : speed_rad_s) grid.place.push_back(at_node(speed));
    return grid;
  }

  const bool rests = distinct.front() == 0.0;
  const double scale = distinct.back() / 40.0;
  const auto stretched = [&](double speed) { return std::log1p(speed / scale); };
  const double low = stretched(rests ? distinct[1] : distinct.front());
  const double high = stretched(distinct.back());
  const std::size_t turning = most_nodes - (rests ? 1 : 0);
  const double step = (high - low) / static_cast<double>(turning - 1);
  if (rests) grid.node_rad_s.push_back(0.0);
  for (std::size_t n = 0; n < turning; ++n)
    grid.node_rad_s.push_back(scale * std::expm1(low + step * static_cast<double>(n)));
  for (const double speed : speed_rad_s) {
    if (speed == 0.0) {
      grid.place.push_back(at_node(speed));
      continue;
    }
    const double t = (stretched(speed) - low) / step;
    const double first = std::clamp(std::floor(t) - static_cast<double>(speed_points / 2 - 1), 0.0,
                                    static_cast<double>(turning - speed_points));
    grid.place.push_back({.first = static_cast<std::size_t>(first) + (rests ? 1 : 0),
                          .weight = lagrange(t - first)});
  }
  return grid;
}

}  // namespace ohmdrag::energy

#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "energy/duty_step.hpp"
#include "energy/table_walk.hpp"

namespace ohmdrag::energy {

/// (nu/(mm2/s))^(2/3) of a lubricant over its temperature, node by node as the oil comes there:
/// between them cubics, 1e-6 off.
class ViscosityPower {
 public:
  /// Takes a shaft to the cell that holds a temperature and narrows the limits to it.
  void enter(const material::LubricantProperties& oil, WalkedShaft& shaft, TableWalk& walk) {
    const double cell = std::floor((walk.oil_K - coldest_K) / cell_K);
    std::array<double, 4> v;
    for (std::size_t n = 0; n < v.size(); ++n) v[n] = node(oil, cell - 1.0 + double(n));
    // Newton's forward differences, multiplied out.
    const double d1 = v[1] - v[0], d2 = v[2] - 2.0 * v[1] + v[0],
                 d3 = v[3] - 3.0 * (v[2] - v[1]) - v[0];
    shaft.from_K = coldest_K + (cell - 1.0) * cell_K;
    shaft.viscosity_power = {v[0], (d1 - d2 / 2.0 + d3 / 3.0) / cell_K,
                             (d2 - d3) / (2.0 * cell_K * cell_K),
                             d3 / (6.0 * cell_K * cell_K * cell_K)};
    walk.low_K = std::max(walk.low_K, coldest_K + cell * cell_K);
    walk.high_K = std::min(walk.high_K, coldest_K + (cell + 1.0) * cell_K);
  }

 private:
  static constexpr double coldest_K = 233.15, cell_K = 2.0;
  static constexpr std::size_t kept = 120;  ///< nodes; beyond them each is computed anew

  double node(const material::LubricantProperties& oil, double n) {
    const auto value = [&] {
      return two_thirds(oil.viscosity.point(coldest_K + n * cell_K).viscosity_mm2_s);
    };
    if (!(n >= 0.0 && n < double(kept))) return value();
    if (nodes_.empty()) nodes_.assign(kept, -1.0);
    double& here = nodes_[static_cast<std::size_t>(n)];
    if (here < 0.0) here = value();
    return here;
  }

  std::vector<double> nodes_;  ///< below zero: not yet computed
};

}  // namespace ohmdrag::energy

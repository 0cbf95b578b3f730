#include "ohmdrag/rig/series_pair.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::rig {

double single_of_pair_uncertainty() { return (most_share - least_share) / std::numbers::sqrt3; }

std::array<std::complex<double>, 3> resolved_pairs(std::complex<double> ab_ohm,
                                                   std::complex<double> bc_ohm,
                                                   std::complex<double> ca_ohm) {
  return {0.5 * (ab_ohm + ca_ohm - bc_ohm), 0.5 * (ab_ohm + bc_ohm - ca_ohm),
          0.5 * (bc_ohm + ca_ohm - ab_ohm)};
}

std::array<Sweep, 3> resolved_pairs(const Sweep& ab, const Sweep& bc, const Sweep& ca) {
  constexpr double same = 1e-3;
  const auto differ = [](const Sweep& a, const Sweep& b) {
    if (a.size() != b.size()) return true;
    for (std::size_t i = 0; i < a.size(); ++i)
      if (std::abs((a[i].frequency / b[i].frequency).value() - 1.0) > same) return true;
    return false;
  };
  if (differ(ab, bc) || differ(ab, ca))
    throw std::invalid_argument(
        "the three pairs were not measured at the same frequencies: one contact comes out of the "
        "difference of two pairs, so sweep all three over one list of frequencies");
  std::array<Sweep, 3> out;
  for (std::size_t i = 0; i < ab.size(); ++i) {
    const auto single = resolved_pairs(ab[i].ohm, bc[i].ohm, ca[i].ohm);
    for (std::size_t k = 0; k < out.size(); ++k) out[k].push_back({ab[i].frequency, single[k]});
  }
  return out;
}

double parallel_over_mean(double share) {
  const double difference = 2.0 * share - 1.0;
  return 0.5 * (1.0 - difference * difference);
}

Sweep share_of_series(Sweep sweep, int contacts) {
  for (SweepPoint& point : sweep) point.ohm /= static_cast<double>(contacts);
  return sweep;
}

}  // namespace ohmdrag::rig

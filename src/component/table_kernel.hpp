#pragma once

#include <algorithm>
#include <array>
#include <span>

#include "ohmdrag/component/shaft_table.hpp"
#include "ohmdrag/numerics/chebyshev_powers.hpp"
#include "ohmdrag/numerics/weighted_rows.hpp"

/// From the solved points of a ShaftTable to its coefficients; part of shaft_table.cpp, which runs
/// it at a width of vectors.
namespace ohmdrag::component {

using OilPoints = numerics::ChebyshevPowers<ShaftTable::oil_points>;

inline const OilPoints& oil_chebyshev() {
  return numerics::chebyshev_powers<ShaftTable::oil_points>();
}

/// From values at the oil points to coefficients of powers of T - middle, for one speed.
template <std::size_t figures>
[[gnu::always_inline]] inline void to_powers(double* values, const OilPoints& points,
                                             double per_half_width) {
  constexpr std::size_t oil_points = ShaftTable::oil_points, row = oil_points * figures;
  std::array<double, row> found;
  double scale = 1.0;
  for (std::size_t k = 0; k < oil_points; ++k, scale *= per_half_width) {
    const std::array<double, oil_points>& m = points.to_power[k];
    static_assert(oil_points == 6);
#pragma GCC ivdep
    for (std::size_t f = 0; f < figures; ++f)
      found[k * figures + f] =
          scale * (((m[0] * values[f] + m[1] * values[figures + f]) +
                    (m[2] * values[2 * figures + f] + m[3] * values[3 * figures + f])) +
                   (m[4] * values[4 * figures + f] + m[5] * values[5 * figures + f]));
  }
  std::copy(found.begin(), found.end(), values);
}

/// \param values  [standstill, solved speeds][oil point][figure]
template <std::size_t figures>
[[gnu::always_inline]] inline void coefficients_of(double* values, std::size_t speeds,
                                                   const ShaftTable::Panel& panel,
                                                   const OilPoints& points,
                                                   std::span<const SpeedGrid::Spread> spreads,
                                                   double* coefficients) {
  constexpr std::size_t row = ShaftTable::oil_points * figures;
  if (const double width_K = panel.high_K - panel.low_K; width_K > 0.0)
    for (std::size_t s = 0; s <= speeds; ++s)
      to_powers<figures>(values + s * row, points, 2.0 / width_K);
  std::copy(values, values + row, coefficients);
  for (const SpeedGrid::Spread& spread : spreads) {
    const double* const from = values + (1 + spread.first_solved) * row;
    double* const to = coefficients + spread.first_node * row;
    if (spread.weights.empty()) {
      std::copy(from, from + spread.nodes * row, to);
      continue;
    }
    for (std::size_t n = 0; n < spread.nodes; ++n)
      numerics::add_weighted_rows<row>(spread.weights.data() + n * spread.solved, spread.solved,
                                       from, to + n * row);
  }
}

}  // namespace ohmdrag::component

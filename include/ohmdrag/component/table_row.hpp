#pragma once

#include <cstddef>

#include "ohmdrag/component/shaft_table.hpp"

/// The look-up in a ShaftTable: the innermost loop of a march.
namespace ohmdrag::component {

/// Figures side by side. Left to itself the compiler takes so short a loop apart.
using Figures [[gnu::vector_size(ShaftTable::figure_step * sizeof(double)), gnu::may_alias]] =
    double;

/// Coefficients of the powers of a place in the oil.
struct FigurePowers {
  Figures of[ShaftTable::oil_points];
};

/// Figures at a speed: coefficients of the powers of T - middle.
///
/// For work that runs at a width of vectors (numerics/lane_width.hpp): it calls nothing.
/// \param coefficients  of a Panel
/// \param count         of the figures of a row
/// \param from          first of the figures that are read
template <std::size_t count>
[[gnu::always_inline]] inline void read_powers(const double* coefficients,
                                               const SpeedGrid::Place& speed, std::size_t from,
                                               FigurePowers& powers) {
  static_assert(SpeedGrid::neighbours == 4 && count % ShaftTable::figure_step == 0);
  constexpr std::size_t row = ShaftTable::oil_points * count;
  const double* const c = coefficients + speed.first * row + from;
  const double w0 = speed.weights[0], w1 = speed.weights[1], w2 = speed.weights[2],
               w3 = speed.weights[3];
  const auto at = [c](std::size_t k) -> const Figures& {
    return *reinterpret_cast<const Figures*>(c + k);
  };
  for (std::size_t p = 0; p < ShaftTable::oil_points; ++p) {
    const std::size_t k = p * count;
    powers.of[p] = (w0 * at(k) + w1 * at(row + k)) + (w2 * at(2 * row + k) + w3 * at(3 * row + k));
  }
}

}  // namespace ohmdrag::component

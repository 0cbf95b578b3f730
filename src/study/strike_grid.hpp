#pragma once

#include <cstddef>

namespace ohmdrag::study {

/// Cells of equal width between round numbers, one side of a map.
struct Axis {
  double from = 0.0;
  double step = 0.0;
  std::size_t cells = 0;

  double middle(std::size_t i) const { return from + (double(i) + 0.5) * step; }
  /// The cell of a value; beyond the ends the first or the last.
  std::size_t index(double x) const;
};

/// From low to high, each rounded outward to a multiple of the step; the step is a round whole
/// number and the smallest by which the cells are at most so many.
/// \throws std::invalid_argument unless low < high and there may be at least two cells.
Axis axis(double low, double high, std::size_t most);

}  // namespace ohmdrag::study

#pragma once

#include <cstddef>

#include "ohmdrag/numerics/aligned_doubles.hpp"

namespace ohmdrag::numerics {

/// Samples that are computed side by side. Enough for the arithmetic of several vectors to overlap,
/// and few enough for a block's tables to stay in the nearest cache.
inline constexpr std::size_t lanes = 32;

/// Quantities of a block of samples, each a row of `lanes` doubles on its own cache lines.
class LaneRows {
 public:
  LaneRows() = default;
  explicit LaneRows(std::size_t rows, double value = 0.0) : values_(rows * lanes, value) {}

  double* operator[](std::size_t row) { return values_.data() + row * lanes; }
  const double* operator[](std::size_t row) const { return values_.data() + row * lanes; }
  std::size_t rows() const { return values_.size() / lanes; }
  bool operator==(const LaneRows&) const = default;

 private:
  AlignedDoubles values_;
};

}  // namespace ohmdrag::numerics

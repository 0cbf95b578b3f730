#pragma once

// posix_memalign() of the GNU C library before 2.38 does not reuse what it gave back: the heap of an
// ensemble would grow with its draws.
#define BOOST_ALIGN_USE_ALIGN
#include <boost/align/aligned_allocator.hpp>
#include <cstddef>
#include <vector>

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

 private:
  std::vector<double, boost::alignment::aligned_allocator<double, 64>> values_;
};

}  // namespace ohmdrag::numerics

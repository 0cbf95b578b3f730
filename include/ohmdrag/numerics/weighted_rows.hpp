#pragma once

#include <cstddef>

namespace ohmdrag::numerics {

/// Adds the weighted sum of `count` rows to another one, four at a time, so that the sum is not
/// stored and loaded for each. For loops that run_at_width() compiles.
/// \param from  [count][row]
template <std::size_t row>
[[gnu::always_inline]] inline void add_weighted_rows(const double* weight, std::size_t count,
                                                     const double* from, double* to) {
  std::size_t s = 0;
  for (; s + 4 <= count; s += 4) {
    const double w0 = weight[s], w1 = weight[s + 1], w2 = weight[s + 2], w3 = weight[s + 3];
    const double* const f = from + s * row;
#pragma GCC ivdep
    for (std::size_t i = 0; i < row; ++i)
      to[i] += (w0 * f[i] + w1 * f[row + i]) + (w2 * f[2 * row + i] + w3 * f[3 * row + i]);
  }
  for (; s < count; ++s) {
    const double w = weight[s];
    const double* const f = from + s * row;
#pragma GCC ivdep
    for (std::size_t i = 0; i < row; ++i) to[i] += w * f[i];
  }
}

}  // namespace ohmdrag::numerics

#pragma once

#include <cstddef>

/// Heat flow along a chain of nodes on a shaft: a tridiagonal, symmetric, positive definite matrix
/// of conductances, for `lanes` shafts side by side (1: a single one). Row n of an array holds
/// node n of all lanes, or the rod from node n to n + 1.
namespace ohmdrag::component {

/// Turns the diagonal into the pivots of its factors, in place.
template <std::size_t lanes>
[[gnu::always_inline]] inline void factorise_chain(std::size_t nodes, const double* through_W_K,
                                                   double* pivot_W_K) {
  for (std::size_t n = 1; n < nodes; ++n)
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double through = through_W_K[(n - 1) * lanes + i];
      pivot_W_K[n * lanes + i] -= through * through / pivot_W_K[(n - 1) * lanes + i];
    }
}

/// Turns nodal sources [W] into nodal temperatures [K], in place.
template <std::size_t lanes>
[[gnu::always_inline]] inline void solve_chain(std::size_t nodes, const double* through_W_K,
                                               const double* pivot_W_K, double* x) {
  for (std::size_t n = 1; n < nodes; ++n)
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      x[n * lanes + i] += through_W_K[(n - 1) * lanes + i] / pivot_W_K[(n - 1) * lanes + i] *
                          x[(n - 1) * lanes + i];
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i)
    x[(nodes - 1) * lanes + i] /= pivot_W_K[(nodes - 1) * lanes + i];
  for (std::size_t n = nodes - 1; n-- > 0;)
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      x[n * lanes + i] = (x[n * lanes + i] + through_W_K[n * lanes + i] * x[(n + 1) * lanes + i]) /
                         pivot_W_K[n * lanes + i];
}

}  // namespace ohmdrag::component

#pragma once

#include <cstddef>

/// Heat flow along a chain of nodes on a shaft: a tridiagonal, symmetric, positive definite matrix
/// of conductances, for `lanes` shafts side by side (1: a single one). Row n of an array holds
/// node n of all lanes, or the rod from node n to n + 1.
namespace ohmdrag::component {

/// Turns the diagonal [W/K] into the inverse pivots of its factors, in place.
template <std::size_t lanes>
[[gnu::always_inline]] inline void factorise_chain(std::size_t nodes, const double* through_W_K,
                                                   double* pivot) {
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) pivot[i] = 1.0 / pivot[i];
  for (std::size_t n = 1; n < nodes; ++n)
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double through = through_W_K[(n - 1) * lanes + i];
      pivot[n * lanes + i] =
          1.0 / (pivot[n * lanes + i] - through * through * pivot[(n - 1) * lanes + i]);
    }
}

/// Turns nodal sources [W] into nodal temperatures [K], in place.
template <std::size_t lanes>
[[gnu::always_inline]] inline void solve_chain(std::size_t nodes, const double* through_W_K,
                                               const double* inverse_pivot, double* x) {
  for (std::size_t n = 1; n < nodes; ++n)
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      x[n * lanes + i] += through_W_K[(n - 1) * lanes + i] * inverse_pivot[(n - 1) * lanes + i] *
                          x[(n - 1) * lanes + i];
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i)
    x[(nodes - 1) * lanes + i] *= inverse_pivot[(nodes - 1) * lanes + i];
  for (std::size_t n = nodes - 1; n-- > 0;)
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      x[n * lanes + i] = (x[n * lanes + i] + through_W_K[n * lanes + i] * x[(n + 1) * lanes + i]) *
                         inverse_pivot[n * lanes + i];
}

}  // namespace ohmdrag::component

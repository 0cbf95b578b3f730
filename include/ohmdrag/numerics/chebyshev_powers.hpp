#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace ohmdrag::numerics {

/// Chebyshev points and what turns values there into the polynomial through them.
template <std::size_t n>
struct ChebyshevPowers {
  std::array<double, n> at;                         ///< in (-1, 1), rising
  std::array<std::array<double, n>, n> to_power{};  ///< [power][point]
};

/// The roots of the Chebyshev polynomial of degree n and the matrix whose product with values there
/// is the coefficients of powers of x: every column holds those of a Lagrange polynomial.
///
/// Validity  few points: powers of x lose a digit for every two of them.
/// Source    Berrut and Trefethen, Barycentric Lagrange interpolation, SIAM Review 46 (2004), for
///           the points (from memory); the matrix: derived, by multiplying out.
template <std::size_t n>
const ChebyshevPowers<n>& chebyshev_powers() {
  static_assert(n >= 2 && n <= 12);
  static const ChebyshevPowers<n> found = [] {
    ChebyshevPowers<n> points;
    for (std::size_t p = 0; p < n; ++p)
      points.at[p] = -std::cos(std::numbers::pi * (static_cast<double>(p) + 0.5) / n);
    for (std::size_t p = 0; p < n; ++p) {
      std::array<double, n> polynomial{1.0};
      std::size_t degree = 0;
      for (std::size_t q = 0; q < n; ++q) {
        if (q == p) continue;
        ++degree;
        for (std::size_t k = degree + 1; k-- > 0;)
          polynomial[k] = ((k > 0 ? polynomial[k - 1] : 0.0) - points.at[q] * polynomial[k]) /
                          (points.at[p] - points.at[q]);
      }
      for (std::size_t k = 0; k < n; ++k) points.to_power[k][p] = polynomial[k];
    }
    return points;
  }();
  return found;
}

}  // namespace ohmdrag::numerics

#pragma once

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <stdexcept>

namespace ohmdrag::numerics {

/// The root of a continuous function between two points where its signs differ.
///
/// Validity  f(low) and f(high) of opposite sign, or one of them zero.
/// Accuracy  the bracket around the root is narrowed to `tolerance` (same unit as the argument).
/// Source    G. E. Alefeld, F. A. Potra, Y. Shi, ACM Trans. Math. Softw. 21 (1995) 327-344,
///           algorithm 748, as implemented in Boost.Math.
///
/// \throws std::invalid_argument if the signs do not differ.
/// \throws std::runtime_error if 200 evaluations do not suffice (a bisection needs 60).
template <class Function>
double bracketed_root(Function&& f, double low, double high, double tolerance) {
  const double f_low = f(low);
  const double f_high = f(high);
  if (f_low == 0.0) return low;
  if (f_high == 0.0) return high;
  if (!(f_low * f_high < 0.0))
    throw std::invalid_argument("root: the function does not change sign in the bracket");
  std::uintmax_t evaluations = 200;
  const auto [a, b] = boost::math::tools::toms748_solve(
      f, low, high, f_low, f_high,
      [tolerance](double x, double y) { return std::abs(y - x) <= tolerance; }, evaluations);
  if (!(std::abs(b - a) <= tolerance)) throw std::runtime_error("root: not found");
  return 0.5 * (a + b);
}

}  // namespace ohmdrag::numerics

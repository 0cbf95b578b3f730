#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace ohmdrag::numerics {

/// Points that fill the unit cube more evenly than random ones: Sobol' points, as they are or
/// scrambled. Every coordinate of every point is reached by its two numbers alone, so each
/// uncertain number of an ensemble may own a dimension, and lanes and threads may ask in any order.
///
/// Method    binary digits of the point's number in Gray code, times the direction numbers of Joe
///           and Kuo; 32 digits. Scrambled: nested uniform scrambling after Owen, the flip of each
///           digit being a random bit that hangs on the dimension, the seed and all digits before.
/// Validity  up to `most_dimensions` and `most_points`. Scrambled points of different seeds are
///           independent of each other; the spread of a mean over some seeds is its error.
/// Limits    the first 2^k points, and every later run of 2^k from a multiple of it, have one value
///           in each of the 2^k strata of every dimension, scrambled or not. A single scrambled
///           coordinate is uniform on (0, 1).
/// Accuracy  of an integral over a smooth function near 1/n, scrambled 1/n^1.5, against 1/n^0.5 of
///           random points; over a jump hardly better than random.
///           Inputs that matter belong into low dimensions: pairs of the first 20 are evener than
///           random ones from 1024 points on, but of pairs taken anywhere one in twenty is no
///           evener at 512 points, and single ones fall into patterns (own measurement).
/// Source    I. M. Sobol', USSR Comput. Math. Math. Phys. 7 (1967) 86-112; I. A. Antonov, V. M.
///           Saleev, the same 19 (1980) 252-256; P. Bratley, B. L. Fox, ACM Trans. Math. Softw. 14
///           (1988) 88-100; S. Joe, F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635-2654 (numbers
///           as in Boost.Random); A. B. Owen, J. Complexity 14 (1998) 466-489; bits by a hash:
///           B. Burley, J. Comput. Graph. Tech. 9 (2020) no. 4, 1-20 (all from memory).
class QuasiRandom {
 public:
  static constexpr std::size_t most_dimensions = 3667;
  static constexpr std::uint64_t most_points = std::uint64_t{1} << 32;

  /// The points as published; the first is the corner 0.
  /// \throws std::invalid_argument unless there are 1 ... most_dimensions.
  explicit QuasiRandom(std::size_t dimensions);
  /// Scrambled by the seed. Other seeds, other points; more dimensions leave the first ones alone.
  QuasiRandom(std::size_t dimensions, std::uint64_t seed);

  std::size_t dimensions() const { return dimensions_; }

  /// The middle of the cell of width 2^-32 that the coordinate falls in, so within (0, 1).
  /// \param index  of the point, from 0
  /// \throws std::out_of_range for a dimension or a point that is not there.
  double value(std::size_t dimension, std::uint64_t index) const;

 private:
  std::size_t dimensions_ = 0;
  std::vector<std::uint32_t> sums_;  ///< of direction numbers, dimension by dimension
  std::optional<std::uint64_t> seed_;
};

}  // namespace ohmdrag::numerics

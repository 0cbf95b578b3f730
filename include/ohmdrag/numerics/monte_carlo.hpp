#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>

#include "ohmdrag/numerics/coverage.hpp"

namespace ohmdrag::numerics {

/// Fills the outcomes of trials first, first + 1, … of a block. What a trial comes to hangs on its
/// two numbers alone: then nobody sees who computed it.
using Trials =
    std::function<void(std::size_t block, std::size_t first, std::span<double> outcomes)>;

/// Calls `piece(first, count)` for pieces that together are trials 0 … trials - 1, in any order,
/// also at the same time.
using Piece = std::function<void(std::size_t first, std::size_t count)>;
using ShareOut = std::function<void(std::size_t trials, const Piece& piece)>;

/// All in one piece, by the caller.
void in_one_piece(std::size_t trials, const Piece& piece);

enum class Points {
  quasi_random,   ///< each block its own scrambling of the Sobol' points
  pseudo_random,  ///< a hash of seed, block, trial and input
};

/// A model of inputs that are given as shares of (0, 1); quantiles.hpp makes values of them.
using ModelOfShares = std::function<double(std::span<const double> shares)>;

/// Trials of a model whose inputs are independent. Blocks are independent of each other.
/// \throws std::invalid_argument for no inputs or, with quasi-random points, more than
///         QuasiRandom::most_dimensions.
Trials trials_of(ModelOfShares model, std::size_t inputs, Points points, std::uint64_t seed);

struct MonteCarloOptions {
  double coverage = 0.95;                           ///< share of the interval, in (0, 1)
  IntervalKind interval = IntervalKind::symmetric;  ///< whose ends have to stabilise
  int significant_digits = 2;                       ///< of the standard uncertainty that count
  double tolerance_share = 1.0;  ///< of the numerical tolerance; 0.2 to judge another result
  /// Raised to 100/(1 - coverage); a power of 2 suits quasi-random points.
  std::size_t trials_a_block = 16384;
  std::size_t fewest_blocks = 4;  ///< two blocks, which JCGM 101 allows, may agree by luck
  std::size_t most_blocks = 200;
};

struct MonteCarloResult {
  bool stabilised = false;  ///< false: `most_blocks` did not suffice
  std::size_t blocks = 0;
  std::size_t trials = 0;
  double estimate = 0.0;
  double uncertainty = 0.0;  ///< standard deviation
  CoverageInterval symmetric, shortest;
  double tolerance = 0.0;  ///< that had to be met
  /// Twice the standard deviation of the mean over the blocks, of each figure and of both ends.
  double estimate_error = 0.0, uncertainty_error = 0.0, low_error = 0.0, high_error = 0.0;
};

/// Half a unit of the last digit that counts of a standard uncertainty: u = c·10^l with c a whole
/// number of so many digits gives 10^l/2. Zero for no uncertainty.
/// Source  JCGM 101:2008, section 7.9.2 (from memory).
/// \throws std::invalid_argument unless the uncertainty is finite and not negative and the digits
///         are 1 … 15.
double numerical_tolerance(double standard_uncertainty, int significant_digits);

/// Propagates distributions by trials, block after block, until the figures stand still.
///
/// Method    the adaptive procedure: after each block the standard deviations of the averages over
///           the blocks of estimate, standard uncertainty and both ends of the interval; enough
///           when twice the largest is within the numerical tolerance. Figures are those of all
///           trials together.
/// Validity  outcomes with a variance. Blocks that are independent: trials_of() makes such.
///           Infinite outcomes have no estimate; take their intervals by coverage_interval().
/// Limits    an outcome that never varies: uncertainty 0, interval of no width.
/// Accuracy  as returned; the errors are themselves estimates out of few blocks.
/// Determinism  the same bits however the trials are shared out.
/// Source    JCGM 101:2008, sections 7.5 to 7.9 and, for the fifth of the tolerance, 8.2 (from
///           memory).
/// \throws std::invalid_argument if an option is out of its range or an outcome is not finite.
MonteCarloResult adaptive_monte_carlo(const Trials& trials, const MonteCarloOptions& options = {},
                                      const ShareOut& share_out = in_one_piece);

}  // namespace ohmdrag::numerics

#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "ohmdrag/numerics/sobol_indices.hpp"
#include "ohmdrag/numerics/sparse_polynomial.hpp"
#include "ohmdrag/study/sensitivity_findings.hpp"

/// What moves one figure: a screen of all inputs, then Sobol' indices of those that matter.
namespace ohmdrag::study {

/// A figure over the coordinates of its inputs, shares of (0, 1); called from many threads.
using FigureOfShares = std::function<double(std::span<const double> shares)>;

struct MovingInput {
  std::string name;
  Basis basis = Basis::assumed;
  std::vector<std::size_t> coordinates;
  std::vector<std::string> keys = {};  ///< of correlated numbers, which count as one input
};

struct MovesEffort {
  numerics::SobolOptions sobol;
  std::size_t most_inputs = 6;  ///< that get indices of their own
  double least_share = 0.005;   ///< of the screen's variance, below which an input joins the rest
  /// Of the variance, that draws may leave unexplained and still stand in for runs.
  double most_unexplained = 0.02;
};

struct VarianceMoves {
  FigureMoves moves;  ///< without `figure` and `unit`
  /// Share of the screen's variance, per input; all 0 where nothing moves the figure.
  std::vector<double> screened;
};

/// Method    screen: one coordinate at a time, between its 2.5 % and 97.5 % points with the others
///           at their middle, and as a jump from each of four evenly laid points, so that what only
///           matters away from the middle is seen; the squares of both, as shares of their sums,
///           added up over the coordinates of an input. The inputs with the largest ones get Sobol'
///           indices of their own, all others one index as a group, so that nothing is left out: a
///           large index of the group says that the screen missed something. The share that rests
///           on assumption is the first-order index of all those inputs as one group, with what
///           they do to each other, without what they do together with the rest: one less the total
///           index of the rest.
/// Validity  independent inputs, a figure that is finite everywhere.
/// Accuracy  95 % intervals by Student's distribution from the spread of the scrambled replicates;
///           a bootstrap of single runs would take evenly laid points for random ones.
/// Source    numerics/sobol_indices.hpp; jumps as in M. D. Morris, Technometrics 33 (1991) 161-174
///           (from memory)
/// \param seen  what each input does in draws that were made already (seen_in_draws()): an input
///              that matters there gets indices of its own too; empty: no such draws
VarianceMoves variance_moves(const FigureOfShares& figure, std::size_t coordinates,
                             std::span<const MovingInput> inputs, const MovesEffort& effort,
                             std::span<const double> seen = {});

/// The same without a further run: a polynomial through what the draws gave.
///
/// Method    numerics::SparsePolynomial; its total indices are the screen.
/// Validity  as variance_moves(), and independent draws.
/// Accuracy  95 % intervals by Student's distribution from its jackknife, widened by all that the
///           polynomial leaves unexplained, for that may be anybody's.
/// \param coordinates  in draws that were made already
/// \param drawn   the figure, by draw
/// \return nothing for less than SparsePolynomial::fewest_rows draws, where the figure is not
///         finite in all of them, or where more than `most_unexplained` is left
std::optional<VarianceMoves> moves_of_draws(const numerics::PolynomialInputs& coordinates,
                                            std::span<const double> drawn,
                                            std::span<const MovingInput> inputs,
                                            const MovesEffort& effort);

/// Share of what a polynomial through the draws explains, per input, however little that is; empty
/// where there is none. A hint where to look, no result.
std::vector<double> seen_in_draws(const numerics::PolynomialInputs& coordinates,
                                  std::span<const double> drawn,
                                  std::span<const MovingInput> inputs);

}  // namespace ohmdrag::study

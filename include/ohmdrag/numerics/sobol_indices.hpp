#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "ohmdrag/numerics/quasi_random.hpp"

namespace ohmdrag::numerics {

/// Share of the variance of an outcome that a group of inputs explains.
struct SobolIndex {
  double first = 0.0;                           ///< by itself
  double total = 0.0;                           ///< by itself and together with others
  double first_error = 0.0, total_error = 0.0;  ///< standard errors
};

struct SobolIndices {
  double mean = 0.0;
  double variance = 0.0;
  std::vector<SobolIndex> group;  ///< in the order of the groups
};

struct SobolOptions {
  std::size_t points = 1024;    ///< a replicate; a power of 2
  std::size_t replicates = 16;  ///< scramblings; their spread is the error
  std::uint64_t seed = 1;
};

/// Which runs of a model tell first-order and total indices, and what they tell. Runs may be made
/// in any order, in lanes or threads.
///
///     S_g  = mean[(f_B - f0)(f_ABg - f_A)]/V,   S_Tg = mean[(f_A - f_ABg)^2]/(2 V)
///
/// Method    two sets A and B out of one scrambled Sobol' sequence of twice as many dimensions as
///           inputs; AB_g is A with the inputs of group g from B. Points x replicates x (groups +
///           2) runs. The mean f0 is taken off, which leaves the expectation as it is.
/// Validity  inputs of different groups independent of each other; within a group they may hang
///           together, and the index is that of the group. Finite outcomes with a variance.
/// Limits    an outcome that never varies: all indices 0. A sum of functions of one input each:
///           first-order and total indices agree and add up to 1.
/// Accuracy  standard errors from the spread of the replicates, those of a ratio; below 0.01 for
///           the usual test functions with 2^14 points in all. Small indices may come out negative.
/// Source    A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259-270, first-order estimator;
///           M. J. W. Jansen, the same 117 (1999) 35-43, total (both from memory).
class SobolDesign {
 public:
  /// \param groups  of numbers of inputs, from 0. What is in none varies, but gets no index. Groups
  ///                may overlap: each has an index of its own, and those of groups that share an
  ///                input add up to nothing.
  /// \throws std::invalid_argument for no inputs or more than half of QuasiRandom's dimensions, no
  ///         group or an empty one, an input that is not there or twice in a group, points that are
  ///         not a power of 2 from 2, or fewer than two replicates.
  SobolDesign(std::size_t inputs, std::vector<std::vector<std::size_t>> groups,
              const SobolOptions& options = {});

  std::size_t runs() const;
  std::size_t inputs() const { return inputs_; }

  /// The inputs of a run as shares of (0, 1).
  /// \throws std::out_of_range unless run < runs() and there is a place for each input.
  void write_shares(std::size_t run, std::span<double> shares) const;

  /// \param outcomes  of all runs
  /// \throws std::invalid_argument if one is missing or not finite.
  SobolIndices indices(std::span<const double> outcomes) const;

 private:
  std::size_t inputs_;
  std::vector<std::vector<bool>> groups_;  ///< by group, whether an input is in it
  std::size_t points_;
  std::vector<QuasiRandom> replicates_;
};

/// Every input its own group.
std::vector<std::vector<std::size_t>> one_by_one(std::size_t inputs);

/// Runs a model of shares of (0, 1) through the design, one run after another.
SobolIndices sobol_indices(const SobolDesign& design,
                           const std::function<double(std::span<const double>)>& model);

}  // namespace ohmdrag::numerics

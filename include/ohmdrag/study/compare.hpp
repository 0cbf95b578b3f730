#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "ohmdrag/quantity/share.hpp"
#include "ohmdrag/study/headlines.hpp"

/// Two cases side by side: what was changed, and which change moved which figure by how much.
namespace ohmdrag::study {

/// A key of the case that is not the same on both sides.
struct InputChange {
  std::string key;                    ///< dotted, as `--set` takes it
  std::optional<std::string> before;  ///< as typed; none: not stated on this side
  std::optional<std::string> after;
  std::string basis_before;  ///< word; empty: none given
  std::string basis_after;
  bool words_only = false;    ///< a title, basis or source: it moves no figure
  Share share = Share::open;  ///< the most closed of what it shows
};

/// What stands behind the figures of one side.
struct ComparedSide {
  std::string title, file, sha256;
  std::string version;  ///< of the program
  unsigned long long seed = 0;
  int samples = 0;
  std::vector<std::string> sets;  ///< each `--set`, as typed
};

/// The middle of a headline figure on both sides.
struct FigureMove {
  std::string variant, figure;
  std::optional<double> before, after;
  std::optional<double> move;  ///< after less before; none: `remark` says why
  /// Of the parts of the comparison, in their order; empty: not split, `remark` says why.
  std::vector<double> shares;
  double rest = 0.0;  ///< move less all shares: what three and more changes do only together
  std::string remark;
};

/// A requirement that is met on one side alone.
struct RequirementTurn {
  std::string variant, requirement;
  bool met_before = false, met_after = false;
};

struct Comparison {
  ComparedSide before, after;
  std::vector<InputChange> changes;  ///< by key
  /// The changes that can be made apart from each other, as indices; those that only make sense
  /// together stand in one part. Without words alone. An empty part is the program's version.
  std::vector<std::vector<std::size_t>> parts;
  std::vector<std::string> chosen_with_part_alone;  ///< by part, of `before`; empty: no choice
  std::vector<FigureMove> moves;                    ///< figures that do not move are left out
  std::size_t figures_alike = 0;
  std::vector<RequirementTurn> turned;
  std::string chosen_before, chosen_after;  ///< empty: no variant is chosen
  bool version_changed = false;
  std::vector<std::string> differences;  ///< what stands on one side alone, in words
  std::vector<std::string> cautions;

  bool nothing_changed() const {
    return changes.empty() && moves.empty() && differences.empty() && !version_changed;
  }
};

enum class Side { before, after };

/// The case of one side with some changes as they stand on the other; none: such a case is refused.
using CaseBetween =
    std::function<std::optional<Case>(Side of, std::span<const std::size_t> changes)>;
/// Told after each evaluation how many of how many are done.
using CompareProgress = std::function<void(std::size_t done, std::size_t all)>;

/// Splits the move of every headline figure into the shares of the changes.
///
/// Method    one at a time both ways: the share of a change is the mean of what it moves alone in
///           the first case and of what taking it back moves in the second; 2 evaluations a change.
///           What two changes do only together is thereby shared out to both in equal parts, as by
///           L. S. Shapley, "A value for n-person games" (1953), for two players; what three and
///           more do together is the rest.
/// Sign      after less before. Swapping the sides turns every sign and no digit.
/// Accuracy  figures are rounded to 2^-40 of the larger side first, so that shares and rest add up
///           to the move in binary arithmetic, exactly.
/// Limits    of the middle of each figure, not of its interval; both sides under the seed that they
///           state, which cancels the draws where it is the same.
/// \throws std::invalid_argument, std::domain_error as evaluate(), for the two cases themselves.
Comparison compare_cases(const Case& before, const Case& after, std::vector<InputChange> changes,
                         const CaseBetween& between, const CompareProgress& progress = {});

/// The same for results that were computed before: no move can be split, unless nothing but the
/// version of the program differs.
Comparison compare_results(ComparedSide before, const Headlines& figures_before, ComparedSide after,
                           const Headlines& figures_after, std::vector<InputChange> changes);

}  // namespace ohmdrag::study

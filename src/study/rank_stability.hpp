#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/study/sensitivity_findings.hpp"

namespace ohmdrag::study {

/// How often the order of the variants holds.
struct RankStability {
  std::vector<RankRow> rows;    ///< from the best to the worst mean place; being out counts last
  std::vector<RankPair> pairs;  ///< of neighbours in that order
};

/// \param ids    of the variants
/// \param costs  [draw][variant], less is better; nothing: not among those that may be chosen.
///               Variants of equal cost share the order of `ids`.
RankStability rank_stability(const std::vector<std::string>& ids,
                             const std::vector<std::vector<std::optional<double>>>& costs);

}  // namespace ohmdrag::study

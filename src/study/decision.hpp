#pragma once

#include <string>
#include <vector>

#include "study/ensemble.hpp"

/// What a trade study decides, and what it decides by, without what it reports besides.
namespace ohmdrag::study {

/// Per draw, what the choice and the verdicts are read from: costs, gains (lg), the lg of every
/// requirement's value; NaN where there is none.
using DecidingFigures = std::vector<std::vector<double>>;

struct Decision {
  std::string chosen;  ///< empty: no variant
  /// Share of the draws in which each variant is the right one, in the order of the case; last the
  /// share in which none is.
  std::vector<double> right;
  std::vector<std::vector<bool>> missed;  ///< [variant][requirement]
  DecidingFigures deciding;

  /// The share of draws in which the chosen variant is the right one.
  double right_of_chosen(const Case& question) const;
};

/// The trade of an ensemble with all sections, without what a report shows besides.
/// \param findings  by variant; filled with what the trade reads
Trade weighed(const Ensemble& ensemble, std::vector<VariantFindings>& findings);

Decision decision_of(const Ensemble& ensemble);
DecidingFigures deciding_figures(const Ensemble& ensemble);

/// The case in which the number of this key stands at its quantile u for all who share it; its
/// part-to-part scatter stays.
Case with_known(const Case& question, const std::string& key, double u);

}  // namespace ohmdrag::study

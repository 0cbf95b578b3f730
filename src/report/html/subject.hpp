#pragma once

#include <string>

#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::report {

/// Which variants a page speaks of where there is room for one beside the baseline.
struct Subject {
  const study::Findings& findings;
  const study::VariantFindings* baseline = nullptr;
  /// The chosen variant; where that is the baseline or none is chosen, the first other one that
  /// nothing dominates, else the first other one. Null: there is only the baseline.
  const study::VariantFindings* other = nullptr;
  const study::ExchangeRow* exchange = nullptr;  ///< of `other`; null without a trade
  const study::ExchangeRow* baseline_exchange = nullptr;
  bool chosen = false;  ///< `other` is what the study chooses

  /// "dense-ring (chosen)", "ring (not chosen)".
  std::string name_of_other() const;
  /// Of the operating point that the trade's net watts belong to; else the first. Null if the
  /// variant has none.
  const study::VoltageRow* voltage(const study::VariantFindings& variant) const;
};

Subject subject(const study::Findings& findings);

}  // namespace ohmdrag::report

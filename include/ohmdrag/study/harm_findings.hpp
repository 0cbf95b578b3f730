#pragma once

#include <optional>
#include <string>

#include "ohmdrag/quantity/uncertain.hpp"

/// What a variant does to the drive that nobody asked it to do, against the baseline.
namespace ohmdrag::study {

/// One entry of the harm account.
struct HarmRow {
  /// Stable word: "debris", "oil", "shaft-groove", "seal-contact-temperature",
  /// "circulating-current", "failure-open", "watts-when-open", "parts".
  std::string what;
  std::optional<Interval> figure;  ///< none: known in words only
  std::string unit;                ///< of the figure, as the report prints it
  std::string text;                ///< in a sentence
  Basis basis = Basis::assumed;    ///< the weakest of the numbers behind it
};

}  // namespace ohmdrag::study

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/study/case.hpp"

/// A trade study in one line a variant: what a sweep keeps of each of its many cases.
namespace ohmdrag::study {

struct HeadlineFigure {
  std::string name;               ///< with its unit, "cruise.net_W"
  std::optional<Interval> value;  ///< none: `why` says so; an end may be infinite
  std::string why;                ///< there is no value
};

struct VariantHeadlines {
  std::string variant;
  std::vector<HeadlineFigure> figures;
  int requirements_met = 0;
  int requirements_asked = 0;
  std::vector<std::string> requirements_missed;  ///< their ids
  bool nondominated = false;
  bool chosen = false;
  double probability_best = 0.0;
  std::string verdict;  ///< in words, as in the trade study
  /// Codes of what formulas, limits and inputs left to say, each once; kept limits are left out.
  std::vector<std::string> flags;
};

struct Headlines {
  std::vector<VariantHeadlines> variants;
  bool any_chosen = false;
  std::vector<std::string> cautions;
};

/// The figures that evaluate() gives under Sections::all(), without what takes its time and fits
/// into no line: register, spectra, strike maps, the course over the years. Net watts and energy
/// are against the baseline; the electrical ones are those of the end of service.
///
/// \throws as evaluate() does
Headlines headlines(const Case& question);

/// Has a case evaluated with every number at its middle: an ensemble of one stratum (see Draws).
void keep_to_the_middle(Case& question);

}  // namespace ohmdrag::study

#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/quantity/share.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/findings.hpp"

/// What a reader outside the own house gets to see of a study: a number whose `share` is above the
/// reader keeps its basis, its rank among the assumptions and a band, never its value.
namespace ohmdrag::study {

/// The numbers of the case and of its variants' worlds that a reader must not see, each key once.
std::vector<UncertainNumber> sealed_numbers(const Case& question, Share reader);

/// The powers of ten around the middle of a number, in the unit an engineer expects; of a
/// temperature the steps of 50 degC around it. A middle that is itself such a mark gets the band
/// that begins there. Zero has no band: both ends are NaN.
InUnit band_of(const UncertainNumber& number);
/// "0.01 … 0.1 N/mm", as a case file takes it; empty without a band.
std::string band_in_words(const UncertainNumber& number);

/// A text without the sealed numbers that it repeats: what the case file wrote and the same number
/// with two to six digits in every unit of its kind become "[sealed]".
std::string without_sealed(std::string text, const std::vector<UncertainNumber>& sealed);

/// The key of a `--set`, without blanks around it.
std::string key_of_set(const std::string& set);
/// A `--set` as a reader may see it: "key=[sealed]" where it sets a sealed number or a table with
/// one.
std::string change_for(const std::string& set, const std::vector<UncertainNumber>& sealed);

/// Ids of the case that hold the digits of a sealed number, three of them or more, as "ring-153"
/// does of 0.0153 N/mm; other rows refer to ids, so none can be taken out. Each as "id (key of the
/// number)".
std::vector<std::string> ids_that_tell(const Case& question,
                                       const std::vector<UncertainNumber>& sealed);

/// The findings as the reader may see them, the only place that takes values out: the register
/// shows bands, figures that repeat a sealed number (limits, allocations, targets, forces, speeds,
/// distances) do not exist, nor do the margins against them, and texts go through without_sealed.
/// Figures that were computed stay: `gives_away` says what they tell.
Findings findings_for(Share reader, const Case& question, Findings findings);

/// A figure that a reader with the open part of the case and this program can turn into a sealed
/// number.
struct GivesAway {
  std::string key;  ///< of the sealed number
  std::string variant;
  std::string figure;    ///< "cruise.net_W"
  double per_cent = 0;   ///< by which the figure moves
  std::string moved_by;  ///< when the number does by this, "1 %" or of a temperature "1 K"
};

/// For each sealed number the printed figure that it moves most, at the middle of all numbers: one
/// that moves by more than 0.01 % when the number moves by 1 % or 1 K. The document holds
/// sixteen digits, so such a figure gives the number back wherever it is the only sealed one that
/// moves it; where several move the same figure, as many figures are needed. A number that only
/// moves figures outside the headlines is not found.
///
/// derived: one number at a time, up by a hundredth (temperatures by 1 K); headlines() of each.
std::vector<GivesAway> gives_away(const Case& question, Share reader);

}  // namespace ohmdrag::study

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "study/sections.hpp"

/// The evidence dial: what is left of an answer when numbers of weak evidence may be anything.
namespace ohmdrag::study {

/// A number at its full range, and how that was found.
struct FullRange {
  Distribution spread;
  std::string how;
};

/// The full range of a number that weak evidence stands behind:
///   a range of the trade for its key        even over it, widened to hold the stated range
///   a stated spread                         even over its 95 % range (of a factor: as wide in its
///                                           logarithm as an even one)
///   neither, a temperature                  ± 10 K, even
///   neither, a length, angle or pure number ± 10 %, even
///   neither, assumed or a single claim      ×/÷ 3
///   neither, anything else                  ± 30 %, even
/// The last four are common practice, no source. A range never leaves the physical one.
/// \return nothing for what the case asks (points, duties, requirements, service), for points of a
///         table and inner dimensions of bearings, which hang together, for zero, which has no
///         relative range, and for what takes its full range already.
std::optional<FullRange> full_range(const UncertainNumber& number, const TradeRange* trade);

/// A case in which all numbers of weaker basis take their full range.
struct OpenedCase {
  Case question;
  std::vector<OpenedNumber> opened;  ///< each key once
};
OpenedCase with_opened(const Case& question, Basis weakest_kept);

/// The rungs from the study as stated down to handbook or better; a rung that opens no more numbers
/// than the one before it is left out. Rungs below the first evaluate the decisive part of the
/// case, in `most_dial_samples` draws at most and never more until figures stand still.
/// \param variant  whose figures are shown \param opened   filled with the numbers opened at
/// the last rung
std::vector<DialStep> evidence_dial(const Case& question, const Trade& stated, std::size_t variant,
                                    std::vector<OpenedNumber>& opened);

/// What the answer stands down to, in a sentence.
std::string stands_down(const std::vector<DialStep>& dial);

}  // namespace ohmdrag::study

#pragma once

#include <stdexcept>
#include <vector>

#include "ohmdrag/quantity/share.hpp"
#include "ohmdrag/study/ask.hpp"
#include "ohmdrag/study/compare.hpp"
#include "ohmdrag/study/design.hpp"
#include "ohmdrag/study/sizing.hpp"

/// What a reader outside the own house gets to see of a scan, a comparison, questions and a sweep;
/// of a study see edition.hpp. None of them shows a sealed number: a band stands in its place, or
/// the command refuses.
namespace ohmdrag::study {

/// What is asked for cannot be shown without showing a sealed number. The words name keys alone.
struct Sealed : std::invalid_argument {
  using std::invalid_argument::invalid_argument;
};

/// A scan begins at the number it turns and tabulates force and resistance of the part.
/// Its window ends where a limit is met.
/// \throws Sealed if a number of the part, its force or its resistance is sealed, or the limit of a
///         requirement; none for Share::internal
void refuse_to_size_sealed(Share reader, const Case& question, const SizingQuestion& what);
/// Texts without sealed numbers; figures are computed and stay.
SizingFindings sizing_for(Share reader, const Case& question, SizingFindings findings);

/// Questions about sealed numbers keep rank, basis and consequence and show a band; at which values
/// the choice turns is left out.
AskFindings questions_for(Share reader, const Case& question, AskFindings findings);

/// A change that shows something sealed on either side shows a band on both, or "sealed" where it
/// is no number. What it moves is computed and stays.
Comparison comparison_for(Share reader, const Case& before, const Case& after,
                          Comparison comparison);

/// An axis shows its values in every row.
/// \throws Sealed if an axis is, or lies in, what is sealed in the case
void refuse_to_sweep_sealed(Share reader, const Case& question, const Design& design);
/// Texts without sealed numbers; figures stay.
Headlines headlines_for(Share reader, const Case& question, Headlines headlines);

}  // namespace ohmdrag::study

#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/findings.hpp"
#include "ohmdrag/study/sizing_findings.hpp"

/// How much element is enough: the window between too little and too much.
namespace ohmdrag::study {

/// The word of files and of the command line.
std::string_view word_of(SizedBy knob);
std::vector<std::string> sized_by_words();
/// \throws std::invalid_argument for a word that is none of these.
SizedBy sized_by_from(std::string_view word);

Dimension dimension_of(SizedBy knob);

struct SizingQuestion {
  std::string variant;
  SizedPart part = SizedPart::grounding;
  std::optional<SizedBy> knob = {};  ///< none: the force that the case states, else the line force
  std::optional<double> from = {};   ///< SI; none: a third of the case's value
  std::optional<double> to = {};     ///< SI; none: three times the case's value
};

/// What is sized: the knob that is asked for, else the force that the case states.
/// \throws std::invalid_argument as size_element().
SizedBy knob_sized(const Case& question, const SizingQuestion& what);

/// The grounding whose window belongs into a trade study: that of the chosen variant, else of the
/// first variant with a force that none other dominates, else of the first with a force. None: no
/// variant has a force to size.
std::optional<SizingQuestion> sizing_of(const Case& question, const Trade& trade);

/// Scans the knob, with the draws of all values shared, and reads the window off.
///
/// Method    every value is a variant of the case beside the baseline, through the same ensemble as
///           a trade: 9 values by equal ratios, then four more between two where a limit begins or
///           ceases to be kept, without energy and discharges over duties where no limit asks for
///           them. Scanned, not bisected: with inductance in the path less resistance can ring, so
///           a limit may be kept, broken and kept again.
/// Validity  that of every model at every force; the spread stated for the knob keeps its share of
///           the value.
/// Limits    a part is inside if its draw keeps all limits at once; unknown and part-to-part are
///           drawn together, but for a requirement that asks for a confidence: there they are kept
///           apart (ShareOfParts).
/// Accuracy  an edge is known to the step between two values: 6 % of the knob over a range of nine.
/// \throws std::invalid_argument for a variant without the part, a knob the part does not have, a
///         range that is none.
SizingFindings size_element(const Case& question, const SizingQuestion& what);

}  // namespace ohmdrag::study

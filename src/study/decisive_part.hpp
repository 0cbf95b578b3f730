#pragma once

#include <vector>

#include "study/ensemble.hpp"

/// The part of a case that its choice hangs on: for whoever asks again and again what is chosen.
namespace ohmdrag::study {

enum class HeadlinePoint { kept, left_out };

/// The case without operating points that no requirement asks about and duties that are no part of
/// the service and that no requirement names; nothing of what is left is altered.
///
/// Validity  for what ChoiceRule reads, and the exchange of the trade where the headline point is
///           kept. Costs of a case without duties are those of its points, which then all stay.
/// Accuracy  a table of losses reaches to the top speed of the duties that are left: figures in it
///           move within its accuracy.
Case decisive_part(const Case& question, HeadlinePoint headline);

/// The case with all its points, without duties that are no part of the service and that no
/// requirement names.
///
/// Validity  for the headline figures. Accuracy as decisive_part().
Case headline_part(const Case& question);

/// The case with some of its variants only, the baseline among them.
Case with_variants(const Case& question, const std::vector<bool>& kept);

/// What has to be computed of a decisive part.
Sections decisive_sections(const Case& part);

/// Whether an ensemble of a part does not do: trips are driven and confidence is found by an
/// ensemble of the case alone.
bool has_to_be_evaluated_whole(const Case& question);

/// An ensemble of a part of the case of `like`, for other draws, none of which are taken yet.
/// \param part  must outlive it; its variants are some of those of `like`, in their order, and what
///              they have lived through in their service is that of `like`
/// \throws std::out_of_range for a variant that is none of `like`
Ensemble ensemble_of_part(const Ensemble& like, const Case& part, const Sections& sections,
                          Draws other);

}  // namespace ohmdrag::study

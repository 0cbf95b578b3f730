#pragma once

#include <cstddef>
#include <functional>

#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::study {

/// Which sections of the findings to fill.
struct Sections {
  bool budget = false;
  bool energy = false;
  bool voltage = false;
  bool life = false;
  bool trade = false;
  /// Of life the discharges alone, for who asks for no hours: no rolling fatigue over the duties.
  bool discharges_alone = false;

  static Sections all() { return {true, true, true, true, true}; }
};

/// Told before each measured trip how many of how many are done, and once more after the last; from
/// the thread that evaluates.
using TripProgress = std::function<void(std::size_t done, std::size_t all)>;

/// Answers a case. Every interval comes from an ensemble in which a number that several variants or
/// points share is drawn once; a difference is taken draw by draw. The same case gives the same
/// findings whatever the number of threads.
///
/// \throws std::invalid_argument for a case no model can run (two seals at one place, a contact
///         beyond the end of its shaft), std::domain_error for a contact that is thermally
///         unstable; both name the variant.
Findings evaluate(const Case& question, const Sections& sections,
                  const TripProgress& progress = {});

/// Samples of an ensemble when a case does not say.
inline constexpr int default_samples = 256;

}  // namespace ohmdrag::study

#pragma once

#include <functional>
#include <vector>

#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::study {

/// Takes out the figures that repeat a sealed number and the margins against it: they become NaN or
/// empty, which every writer shows as "does not exist".
void take_out_echoes(const Case& question, const std::vector<UncertainNumber>& sealed,
                     Findings& findings);

/// Which figures of a contact repeat a sealed number.
struct SealedContact {
  bool force = false;
  bool resistance = false;
};
SealedContact sealed_of_seal(const Variant& variant, const std::vector<UncertainNumber>& sealed);
SealedContact sealed_of_grounding(const Variant& variant,
                                  const std::vector<UncertainNumber>& sealed);

/// The values of sealed inputs in what opens, moves and overturns the answer.
void take_out_moved_inputs(const std::vector<UncertainNumber>& sealed,
                           SensitivityFindings& findings);
void for_each_text(SensitivityFindings& findings, const std::function<void(std::string&)>& visit);

/// Every text of the findings that may repeat a number of the case: titles, remarks, flags,
/// sentences, sources. Not ids, which other rows refer to, and not file names.
void for_each_text(Findings& findings, const std::function<void(std::string&)>& visit);

}  // namespace ohmdrag::study

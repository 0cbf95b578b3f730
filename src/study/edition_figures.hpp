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

/// Every text of the findings that may repeat a number of the case: titles, remarks, flags,
/// sentences, sources. Not ids, which other rows refer to, and not file names.
void for_each_text(Findings& findings, const std::function<void(std::string&)>& visit);

}  // namespace ohmdrag::study

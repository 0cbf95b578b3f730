#pragma once

#include <string>

#include "ohmdrag/study/findings.hpp"

namespace ohmdrag::report {

/// The result document as a workbook (Office Open XML): the answer in words, three charts, then a
/// sheet for every table that `csv` writes, with the same columns in the same order.
///
/// Figures are real numbers with sixteen digits; the format of a cell shows as many decimals as its
/// interval bears. Heads stay in view and name the units; an interval has three columns, 95 %.
/// Texts are never formulas, whatever they begin with; one longer than a cell can hold ends in "…".
/// What does not exist is an empty cell. The same findings give the same bytes: the date inside the
/// file is a constant.
///
/// \throws std::runtime_error if the file cannot be put together, with the reason
std::string xlsx(const study::Findings& findings);

}  // namespace ohmdrag::report

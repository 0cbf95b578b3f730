#pragma once

#include <vector>

#include "ohmdrag/quantity/share.hpp"
#include "ohmdrag/study/explain.hpp"

namespace ohmdrag::study {

/// Takes out of a chain every value that hangs on a sealed number.
/// \param moved  the chain of the same figure with these numbers moved; empty: every line is sealed
void seal_chain(Share reader, const std::vector<UncertainNumber>& sealed,
                const std::vector<ExplainLine>& moved, Explanation& explanation);

}  // namespace ohmdrag::study

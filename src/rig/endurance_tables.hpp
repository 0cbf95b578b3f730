#pragma once

#include <cmath>
#include <optional>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/rig/endurance_findings.hpp"

namespace ohmdrag::rig {

/// 95 of 100 normal values of this deviation of the logarithm lie within a factor of the middle.
inline double factor_of(double deviation) { return std::exp(normal_95 * deviation); }

/// Laws, specimens and, for a share that is to be shown, how many specimens that needs; curve and
/// residuals for the document.
void add_tables(RunFindings& out, const EnduranceRun& run, const EnduranceFit& fit,
                const std::optional<double>& share);

}  // namespace ohmdrag::rig

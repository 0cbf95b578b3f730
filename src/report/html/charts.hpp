#pragma once

#include <vector>

#include "report/html/chart.hpp"
#include "report/html/subject.hpp"

/// The charts of the report, each from the findings alone. One without data has no rows.
namespace ohmdrag::report {

std::vector<Chart> exchange_charts(const Subject& subject);
std::vector<Chart> watts_charts(const Subject& subject);   ///< over speed, against allocations
std::vector<Chart> energy_charts(const Subject& subject);  ///< per duty and phase
std::vector<Chart> course_charts(const Subject& subject);  ///< oil and contacts along the duties
/// A variant's parts over the speed of their shafts, and at the operating points.
Chart speed_chart(const study::VariantFindings& variant, const std::string& name);
std::vector<Chart> strike_charts(const Subject& subject);
std::vector<Chart> ground_charts(const Subject& subject);  ///< impedance, waveform, spectrum
std::vector<Chart> life_charts(const Subject& subject);    ///< survival and dose over service
std::vector<Chart> window_charts(const Subject& subject);  ///< over the force that was sized
std::vector<Chart> moves_charts(const Subject& subject);

/// Ids of all variants, the baseline first: it has the first colour, shape and dash everywhere.
Json variant_names(const study::Findings& findings);

}  // namespace ohmdrag::report

#pragma once

#include <string>
#include <vector>

#include "rig/endurance_pool.hpp"

namespace ohmdrag::rig {

/// \throws std::invalid_argument, in words, for a run that no fit should be made of.
void require_plausible(const EnduranceRun& run);

/// Steps of single specimens and of all at once, from the residuals over the curves: readings after
/// a step lie off those before it, more than their noise. In words, with the hours.
std::vector<std::string> steps_in_words(const EnduranceRun& run, const PooledFit& pooled);

/// A specimen is fitted with so many readings at most: of a denser log, neighbours tell the same.
inline constexpr std::size_t most_readings = 300;
/// The run with the readings of dense logs in groups.
EnduranceRun thinned(const EnduranceRun& run, std::vector<std::string>& notes);

/// "6 specimens", "1 specimen"
std::string specimens_in_words(std::size_t count);
/// "12.5 h"
std::string hours_in_words(double seconds);

}  // namespace ohmdrag::rig

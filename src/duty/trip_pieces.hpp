#pragma once

#include "ohmdrag/duty/trip_log.hpp"

namespace ohmdrag::duty {

/// Judges the steps of a log and splits it at its long gaps.
/// \param samples  all of the log
/// \param report   with what only the rows could tell; the rest is filled in
/// \throws TripError for fewer than two samples or too coarse a step.
Trip trip_of(TripPiece samples, TripReport report);

}  // namespace ohmdrag::duty

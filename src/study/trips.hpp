#pragma once

#include <functional>
#include <string>
#include <vector>

#include "study/model.hpp"

/// Duties of measured trips: read one at a time, marched, added up and dropped.
namespace ohmdrag::study {

struct Ensemble;

/// Hands over each trip of a duty in order and drops it; those that are refused are left out.
void for_each_trip(const Duty& duty, const std::function<void(const duty::Trip&)>& use);

/// One trip of a duty, ready to march from the duty's start temperature. Over a gap between two
/// pieces the oil keeps its temperature: nobody knows what the vehicle did.
DutyModel trip_model(const WorldModel& model, const Duty& duty, const duty::Trip& trip,
                     const Draw& draw);

/// Fills what the ensemble holds of duties of trips: in `samples` their sums, in `trips` a row
/// each. Every file is read once for all draws of all variants.
/// \throws std::invalid_argument if no trip of a duty can be read or none makes any way.
void march_trips(Ensemble& ensemble);

/// The trips that were left out, and why.
std::vector<std::string> trip_cautions(const Ensemble& ensemble);

/// What a sum over trips is made of.
Flag trip_flag(const Ensemble& ensemble, const Duty& duty);

}  // namespace ohmdrag::study

#pragma once

#include <functional>
#include <string>
#include <vector>

#include "ohmdrag/study/evaluate.hpp"
#include "study/model.hpp"

/// Duties of measured trips: read one at a time, marched, added up and dropped.
namespace ohmdrag::study {

struct Ensemble;

/// Hands over each trip of a duty in order and drops it; those that are refused are left out.
void for_each_trip(const Duty& duty, const std::function<void(const duty::Trip&)>& use);

/// One trip of a duty, ready to march from the duty's start temperature. Over a gap between two
/// pieces the oil keeps its temperature: nobody knows what the vehicle did.
///
/// What the log holds beside the road speed replaces what the case would give, each as the mean of
/// the step between two samples (trapezoid, as the speed):
///   shaft_speed          of the duty's shaft, in place of ratio times road speed; the others keep
///                        their ratio to it. A shaft that turns while the vehicle stands is driven.
///   torque               of that shaft, for loads of bearings and gears; the others by their ratio
///                        to it. Traction, recuperation and consumption stay those of the road
///                        load.
///   sump_temperature     the oil, with no memory; no warm-up is computed.
///   ambient_temperature  around the sump, and at the dry side of shafts that state none.
DutyModel trip_model(const WorldModel& model, const Duty& duty, const duty::Trip& trip,
                     const Draw& draw);

/// What a log gave in place of the case, in a sentence that begins with a blank; empty where it
/// held the road speed alone.
std::string measured_in_words(const Case& world, const Duty& duty, const duty::Trip& trip);

/// Fills what the ensemble holds of duties of trips: in `samples` their sums, in `trips` a row
/// each. Every file is read once for all draws of all variants.
/// \throws std::invalid_argument if no trip of a duty can be read or none makes any way.
void march_trips(Ensemble& ensemble, const TripProgress& progress);

/// The trips that were left out, and why.
std::vector<std::string> trip_cautions(const Ensemble& ensemble);

/// What a sum over trips is made of.
Flag trip_flag(const Ensemble& ensemble, const Duty& duty);

}  // namespace ohmdrag::study

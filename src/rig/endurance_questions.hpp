#pragma once

#include <functional>

#include "rig/endurance_population.hpp"

namespace ohmdrag::rig {

inline Interval exp_of(const Interval& ln) {
  return {std::exp(ln.low), std::exp(ln.mid), std::exp(ln.high)};
}

/// The first time between two at which a curve reaches a level; the first one if it starts above,
/// infinite if it does not.
double first_crossing(const std::function<double(double t_s)>& curve, double level, double from_s,
                      double to_s);

/// Fills what was asked of the run: the service hours, the limit, the share of parts.
///
/// \param growing  the curves of the best law that grows, the same ones unless none was chosen
void answer_questions(const EnduranceRun& run, const CurveSamples& samples,
                      const CurveSamples& growing, EnduranceFit& out);

/// The factor between two hours, with its interval. Where no growth was found, 1, within what the
/// best law that grows leaves open.
Interval growth_factor(GrowthLaw law, const CurveSample& grown);

}  // namespace ohmdrag::rig

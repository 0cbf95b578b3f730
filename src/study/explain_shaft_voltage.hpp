#pragma once

#include "study/electric.hpp"
#include "study/explain_parts.hpp"

namespace ohmdrag::study {

/// The shaft voltage of a variant somewhere.
struct ExplainedVoltage {
  const Nominal& nominal;
  const ElectricModel& electric;
  const ElectricState& state;
  Temperature oil;
  Torque torque;
};

/// Rate and dose of the discharges, after the lines of threshold_V and V_held.
void explain_discharges(const ExplainedVoltage& now, Chain& chain);

/// Oil and least film of a bearing, in um as "h_min", and "film_ratio".
/// \param place  of the bearing in the model
void explain_bearing_film(const ExplainedVoltage& now, std::size_t place,
                          const bearing::FilmState& film, Chain& chain);

}  // namespace ohmdrag::study

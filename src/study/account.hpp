#pragma once

#include <array>
#include <span>
#include <vector>

#include "study/model.hpp"
#include "study/samples.hpp"

/// What the ensemble gathers for the account of watts.
namespace ohmdrag::study {

/// Whether an allocation, a target or a split speaks of the mean watts over a duty, so that the
/// budget has to run the duties.
bool account_names_a_duty(const Case& question);

/// How long and how far a shaft turns over a duty, apart by duty::Drive.
struct ShaftTurning {
  std::array<double, 3> time_s{};
  std::array<double, 3> angle_rad{};
};
std::vector<ShaftTurning> shaft_turning(const DutyModel& duty, std::size_t shafts);

/// A small constant loss at each shaft over a duty, in one draw.
///
/// Sign      positive: a loss takes energy. Nothing is lost while the shaft stands.
/// Validity  the loss is so small that it changes no step from pulling to braking; it does not feel
///           the oil.
/// Limits    of_Nm at the shaft is the shaft's angle over the duty: with one ratio, per distance
/// the
///           same on every cycle. of_watt at the shaft is the time in which the shaft turns.
/// Source    derived: energy::PhaseLedger::at_battery for power 1 W and torque 1 N m; equal to
///           running the duty twice and subtracting.
///
/// \param turning  by shaft
/// \param driven   a vehicle on its battery, else a machine
std::vector<ShaftWorth> shaft_worth(const WorldModel& model, std::span<const ShaftTurning> turning,
                                    bool driven);

}  // namespace ohmdrag::study

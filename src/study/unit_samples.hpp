#pragma once

#include <optional>

#include "study/model.hpp"
#include "study/samples.hpp"

/// What one variant yields at a point and over a duty in one draw.
namespace ohmdrag::study {

class ElectricModel;

/// The unit of new contacts, with the friction of their first hours where the point says how long
/// they have run.
energy::DriveUnit unit_at(const OperatingPoint& point, const Case& world,
                          const VariantModel& variant, const Draw& draw);

/// One point of one variant in one draw.
PointSample point_sample(const WorldModel& model, const VariantModel& variant,
                         const OperatingPoint& point, const Draw& draw);

/// The unit at the end of its service; none where nothing ages.
std::optional<energy::DriveUnit> aged_unit(const VariantModel& variant);
/// One point of one variant whose aged_unit() serves several.
PointSample point_sample(const WorldModel& model, const VariantModel& variant,
                         const std::optional<energy::DriveUnit>& aged, const OperatingPoint& point,
                         const Draw& draw);

/// One variant over one duty or trip in one draw, without its baseline consumption.
/// \param electric  null: nothing strikes
DutySample duty_sample(const WorldModel& model, const VariantModel& variant, const DutyModel& duty,
                       const ElectricModel* electric);
/// The phases of a duty out of its ledger.
void fill_phases(const WorldModel& model, const VariantModel& variant, const DutyModel& duty,
                 const energy::Ledger& ledger, DutySample& result);
/// Consumption of the vehicle as it stands, Wh/km; zero for a machine.
double baseline_consumption(const WorldModel& model, const DutyModel& duty, const Draw& draw);

}  // namespace ohmdrag::study

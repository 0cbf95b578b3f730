#pragma once

#include <vector>

#include "ohmdrag/energy/drive_unit.hpp"

namespace ohmdrag::study {

/// The heat that reaches the oil, by what makes it.
struct HeatIntoSump {
  std::vector<Power> by_part;  ///< in the order of the unit, >= 0
  /// Through the shafts with all friction taken away, heat of currents through contacts included;
  /// negative where the dry side is the colder one.
  Power idle;
};

/// Shares out the heat that LossModel::at() says the sump receives.
///
/// A contact's own heat goes partly to the dry side; what it adds to the oil is found with the
/// heat of its friction alone. Everything else stands in the oil and gives it all its heat.
///
/// Validity  that of component::ThermalNetwork, whose flows are linear in the powers.
/// Limits    the parts and the idle flow add up to the heat into the sump, to rounding.
/// Source    derived: superposition.
///
/// \param solved  at a point
/// \param losses  as it left them there
HeatIntoSump heat_into_sump(const energy::DriveUnit& unit, const energy::LossModel& solved,
                            std::span<const energy::PartLoss> losses);

}  // namespace ohmdrag::study

#pragma once

#include <optional>
#include <span>
#include <vector>

#include "energy/viscosity_power.hpp"

namespace ohmdrag::energy {

/// A unit with the tables of its shafts, for all duties that are marched of it.
class QuickMarch::Tables {
 public:
  struct Rolling {
    std::size_t part, shaft;
    double viscous_Nm;  ///< where bearing::viscous_scale() is 1
  };
  struct Contacts {
    std::optional<component::ShaftTable> table;  ///< none without contacts
    std::vector<std::size_t> parts;              ///< by contact
  };

  Tables(const DriveUnit& of, std::span<const component::SpeedGrid> grids,
         std::vector<Temperature> dry_sides, numerics::LaneWidth lane_width);

  /// Shafts of a walk with their bearings, and nowhere to gather yet.
  std::vector<WalkedShaft> shafts() const;
  /// One shaft with bearings and few contacts.
  bool usual() const;
  /// Take a walk to what holds its oil, and its limits with it.
  void enter_viscosity(TableWalk& walk);
  /// \return false where a shaft is not tabulated
  bool enter_panels(TableWalk& walk, bool held);

  const DriveUnit& unit;
  const std::vector<Temperature> dry;
  const numerics::LaneWidth width;
  std::vector<Contacts> contacts;  ///< per shaft
  std::vector<Rolling> bearings;
  std::vector<std::size_t> others;  ///< parts that are computed stretch by stretch

 private:
  std::vector<double> viscous_Nm_;         ///< per shaft
  std::vector<ViscosityPower> viscosity_;  ///< per shaft
};

}  // namespace ohmdrag::energy

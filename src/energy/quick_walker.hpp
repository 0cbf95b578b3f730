#pragma once

#include <optional>
#include <span>
#include <vector>

#include "energy/viscosity_power.hpp"

namespace ohmdrag::energy {

/// A unit with its tables, walked over one duty after the other.
class QuickMarch::Walker {
 public:
  Walker(const DriveUnit& unit, std::span<const component::SpeedGrid> grids,
         std::vector<Temperature> dry, numerics::LaneWidth width);

  Ledger march(std::span<const Stretch> duty, const DutyColumns& columns, std::size_t phases,
               const SumpDuty& sump, std::vector<double>& oil_K);

 private:
  struct Rolling {
    std::size_t part, shaft;
    double viscous_Nm;  ///< where bearing::viscous_scale() is 1
  };
  struct Contacts {
    std::optional<component::ShaftTable> table;   ///< none without contacts
    std::vector<std::size_t> parts;               ///< by contact
    std::optional<component::ShaftState> solved;  ///< last, to start from
  };

  void begin(const DutyColumns& columns, std::size_t phases, const SumpDuty& sump);
  void add_loads(const DutyColumns& columns);
  void enter_viscosity();
  bool enter_tables(bool held);
  void step_apart(const Stretch& stretch, std::size_t i, const SumpDuty& sump);
  /// Returns the next stretch.
  std::size_t step_solved(const Stretch& stretch, std::size_t i);
  bool hold(const PlacedStretches& placed);
  double add_others(const Stretch& stretch, std::size_t bucket);
  Ledger ledger(const DutyColumns& columns, std::size_t phases) const;

  const DriveUnit* unit_;
  std::vector<Temperature> dry_;
  numerics::LaneWidth width_;
  std::vector<Contacts> contacts_;         ///< per shaft
  std::vector<ViscosityPower> viscosity_;  ///< per shaft
  std::vector<Rolling> bearings_;
  std::vector<std::size_t> others_;  ///< parts that are computed stretch by stretch
  bool by_tables_ = true;
  TableWalk walk_;
  std::vector<double> load_W_;   ///< by stretch
  std::vector<double> other_J_;  ///< [bucket][other part]
};

}  // namespace ohmdrag::energy

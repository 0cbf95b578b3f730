#pragma once

#include <optional>
#include <vector>

#include "energy/unit_tables.hpp"

namespace ohmdrag::energy {

/// A duty on its way: what of it is not walked by tables, and what comes out in the end.
class WalkedDuty {
 public:
  /// Of a held oil the duty is done at once, where the tables serve.
  /// \param lanes  null, or where it gathers, on a lane
  /// \throws as march()
  WalkedDuty(const QuickMarch::Order& order, WalkLanes* lanes, std::size_t lane);

  /// Goes on to stretches that can be walked by tables; false at the end of the duty.
  bool ready();
  TableWalk& walk() { return walk_; }
  numerics::LaneWidth width() const { return tables_.width; }

  /// Once the duty is at its end.
  Ledger ledger() const;
  std::vector<double>& oil_K() { return oil_K_; }

  /// Whether its walks are usual ones, as WalkLanes takes them.
  static bool fits_lanes(const QuickMarch::Order& order);
  /// The figures that its shaft uses then.
  static std::size_t used_figures(const QuickMarch::Order& order);

 private:
  void gather_alone(std::size_t buckets);
  void step_apart(std::size_t i);
  void step_solved(std::size_t i);
  /// Walks over the next stretch alone.
  void step_by_tables();
  bool hold();
  double add_others(std::size_t i);

  QuickMarch::Order order_;
  QuickMarch::Tables& tables_;
  const PlacedStretches& placed_;
  bool by_tables_;
  std::vector<std::size_t>::const_iterator apart_;
  std::vector<std::optional<component::ShaftState>> solved_;  ///< per shaft: last, to start from
  TableWalk walk_;
  std::vector<double> oil_K_;
  std::vector<double> other_J_;              ///< [bucket][other part]
  component::ShaftTable::Aligned gathered_;  ///< of the shafts, unless it stands in lanes
};

}  // namespace ohmdrag::energy

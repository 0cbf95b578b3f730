#pragma once

#include <exception>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/component/shaft_table.hpp"
#include "ohmdrag/energy/march.hpp"

/// march() for an ensemble: the same stretches by many units and many draws.
namespace ohmdrag::energy {

/// A stretch in plain numbers, without its speeds.
struct DutyStep {
  double dt_s = 0.0;
  double air_share = 0.0;  ///< of the air stream's conductance at its reference speed
  double oil_K = 0.0;      ///< 0: as the sump has it
  double ambient_K = 0.0;  ///< 0: as the sump has it
  std::size_t bucket = 0;  ///< three a phase: 3 phase + duty::Drive
  bool parked = false;
};

/// Where a stretch stands on the grid of a shaft.
struct PlacedSpeed : component::SpeedGrid::Place {
  /// (n/rpm)^(2/3): the viscous torque of a bearing goes with that of nu n.
  double viscous_speed = 0.0;
};

/// The stretches of a duty on the speed grids of a unit's shafts.
struct PlacedStretches {
  /// \param sump  of which the air stream counts, and whether the oil is held
  /// \throws std::invalid_argument as duty::conductance_at().
  PlacedStretches(std::span<const Stretch> duty, std::span<const component::SpeedGrid> grids,
                  const SumpDuty& sump);

  std::size_t shafts;
  std::vector<DutyStep> steps;
  std::vector<PlacedSpeed> places;  ///< [stretch][shaft]
  /// Stretches that are not as the rest: parked, with an oil or a dry side of their own, or faster
  /// than the grids.
  std::vector<std::size_t> apart;
  std::vector<Time> time;        ///< per phase, but parked
  std::vector<Length> distance;  ///< per phase, but parked

  /// A shaft with its oil held: nothing hangs on the order of the stretches.
  struct Held {
    /// A figure's sum over the stretches of a bucket is that of its nodes with these.
    struct Weight {
      std::size_t bucket, node;
      double time_s, angle_rad;
    };
    /// A speed of a bucket: what is turned at all up to this one, and from it on, times
    /// viscous_speed.
    struct Turned {
      double viscous_speed, slower_rad, scaled_faster_rad;
    };
    std::vector<Weight> weights;
    std::vector<std::vector<Turned>> turned;  ///< by bucket; rising, and one beyond all
  };
  std::vector<Held> held;  ///< per shaft; empty where the oil moves

 private:
  Held hold(std::size_t shaft, std::size_t nodes) const;
};

/// The share of a bearing's torque that goes with load, over the stretches of a duty.
struct LoadTorques {
  LoadTorques(const BearingPart& part, std::span<const Stretch> duty);

  /// By what these are those of another part, which may differ in its factors of torque; none if it
  /// differs in more.
  std::optional<double> scale_to(const BearingPart& other) const;

  BearingPart of;
  std::vector<double> torque_Nm;
  std::vector<double> power_W;
  std::vector<double> energy_J;  ///< by bucket, as in DutyStep
};

/// What a duty asks of a unit that no oil temperature changes. Its members may serve many draws.
struct DutyColumns {
  struct Bearing {
    std::shared_ptr<const LoadTorques> torques;
    double scale;
  };
  DutyColumns(std::shared_ptr<const PlacedStretches> of, std::vector<Bearing> loaded);

  std::shared_ptr<const PlacedStretches> stretches;
  std::vector<Bearing> bearings;  ///< in the order of the parts
  std::vector<double> load_W;     ///< of the bearings' loads, by stretch
};

/// The speeds of each shaft over a duty, beside what is there already.
void add_speeds(std::span<const Stretch> duty, std::vector<component::SpeedRange>& speeds);
/// The grids of all shafts of a unit for the speeds of some duties.
std::vector<component::SpeedGrid> speed_grids(const DriveUnit& unit,
                                              std::span<const component::SpeedRange> speeds);

/// Marches one unit again and again, its shafts out of tables.
///
/// Validity  as march().
/// Limits    a stretch that the tables do not hold is solved as march() does it.
/// Accuracy  energies within 1e-5 of march() relative to all of the unit, the oil at the end within
///           1e-4 K, over every duty of the shipped cases
///           (tests/input/shipped_quick_duty_test.cpp); of lips and rings 4e-7, as
///           component::ShaftTable.
/// Source    derived: the losses of a stretch have no memory but the oil temperature.
class QuickMarch {
 public:
  /// Refers to unit and grids, which must outlive it.
  /// \param dry  air at the dry side, per shaft, where a stretch names none
  QuickMarch(const DriveUnit& unit, std::span<const component::SpeedGrid> grids,
             std::vector<Temperature> dry, numerics::LaneWidth width = numerics::widest_lanes());
  QuickMarch(QuickMarch&&) noexcept;
  ~QuickMarch();

  /// \param columns  of this duty and these grids
  /// \param oil_K    receives the oil temperature at the start of each stretch
  /// \throws as march().
  Ledger operator()(std::span<const Stretch> duty, const DutyColumns& columns, std::size_t phases,
                    const SumpDuty& sump, std::vector<double>& oil_K);

  /// A duty to be marched by a unit, as operator() takes it.
  struct Order {
    QuickMarch* march;
    std::span<const Stretch> duty;
    const DutyColumns* columns;
    std::size_t phases;
    const SumpDuty* sump;
  };
  struct Marched {
    Ledger ledger;
    std::vector<double> oil_K;   ///< at the start of each stretch
    std::exception_ptr failure;  ///< what march() throws; the rest is empty then
  };
  /// Several duties, of one unit or of several: the same bits as one after the other, in a fraction
  /// of the time, for each step of an oil waits for the one before.
  static std::vector<Marched> side_by_side(std::span<const Order> orders);

 private:
  friend class WalkedDuty;
  class Tables;
  std::unique_ptr<Tables> tables_;
};

}  // namespace ohmdrag::energy

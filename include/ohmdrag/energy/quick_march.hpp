#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/component/shaft_table.hpp"
#include "ohmdrag/energy/march.hpp"

/// march() for an ensemble: the same stretches by many units and many draws.
namespace ohmdrag::energy {

/// The stretches of a duty on the speed grids of a unit's shafts.
struct PlacedStretches {
  PlacedStretches(std::span<const Stretch> duty, std::span<const component::SpeedGrid> grids);

  std::size_t shafts;
  std::vector<component::SpeedGrid::Place> places;  ///< [stretch][shaft]
  /// (n/rpm)^(2/3): the viscous torque of a bearing goes with that of nu n.  [stretch][shaft]
  std::vector<double> viscous_speed;
};

/// The share of a bearing's torque that goes with load, over the stretches of a duty.
struct LoadTorques {
  LoadTorques(const BearingPart& part, std::span<const Stretch> duty);

  /// By what these are those of another part, which may differ in its factors of torque; none if it
  /// differs in more.
  std::optional<double> scale_to(const BearingPart& other) const;

  BearingPart of;
  std::vector<double> torque_Nm;
};

/// What a duty asks of a unit that no oil temperature changes. Its members may serve many draws.
struct DutyColumns {
  struct Bearing {
    std::shared_ptr<const LoadTorques> torques;
    double scale;
  };
  std::shared_ptr<const PlacedStretches> stretches;
  std::vector<Bearing> bearings;  ///< in the order of the parts
};

/// The fastest of each shaft over a duty, raised to what is there already.
void raise_to_top(std::span<const Stretch> duty, std::vector<AngularVelocity>& top);
/// The grids of all shafts of a unit up to the fastest of some duties.
std::vector<component::SpeedGrid> speed_grids(const DriveUnit& unit,
                                              std::span<const AngularVelocity> top);

/// Marches one unit again and again, its shafts out of tables.
///
/// Validity  as march().
/// Limits    a stretch that the tables do not hold is solved as march() does it.
/// Accuracy  energies within 1e-5 of march() relative to all of the unit, the oil at the end within
///           1e-4 K, over every duty of the shipped cases
///           (tests/input/shipped_quick_duty_test.cpp).
/// Source    derived: the losses of a stretch have no memory but the oil temperature.
class QuickMarch {
 public:
  /// Refers to unit and grids, which must outlive it.
  /// \param dry  air at the dry side, per shaft, where a stretch names none
  QuickMarch(const DriveUnit& unit, std::span<const component::SpeedGrid> grids,
             std::vector<Temperature> dry);

  /// \param columns  of this duty and these grids
  /// \param oil_K    receives the oil temperature at the start of each stretch
  /// \throws as march().
  Ledger operator()(std::span<const Stretch> duty, const DutyColumns& columns, std::size_t phases,
                    const SumpDuty& sump, std::vector<double>& oil_K);

 private:
  struct Rolling {
    std::size_t part, shaft;
    double viscous_Nm;  ///< where bearing::viscous_scale() is 1
  };
  bool by_tables(const Stretch& stretch, std::size_t i, const DutyColumns& columns, Temperature oil,
                 bool held, std::span<double> power_W, double& into_sump_W);
  double viscosity_power(std::size_t shaft, Temperature oil) const;

  const DriveUnit* unit_;
  std::vector<Temperature> dry_;
  std::vector<std::optional<component::ShaftTable>> tables_;  ///< none without contacts
  std::vector<std::vector<std::size_t>> contact_parts_;       ///< [shaft][contact]
  std::vector<Rolling> bearings_;
  std::vector<std::size_t> others_;  ///< parts that are computed stretch by stretch
  numerics::CubicGrid oil_grid_;
  std::vector<std::vector<double>> viscosity_;  ///< [shaft][node], (nu/(mm2/s))^(2/3)
  std::vector<double> torque_Nm_;               ///< scratch
};

}  // namespace ohmdrag::energy

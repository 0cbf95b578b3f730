#pragma once

#include <array>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/duty/battery.hpp"
#include "ohmdrag/duty/trace.hpp"
#include "ohmdrag/duty/warm_up.hpp"
#include "ohmdrag/energy/drive_unit.hpp"

namespace ohmdrag::energy {

/// A gear above the first of a box that shifts by road speed.
struct HigherGear {
  double ratio;
  Speed shift_up;    ///< taken from the gear below at and above this road speed
  Speed shift_down;  ///< left to the gear below under this one; <= shift_up
};

/// How a shaft follows the wheel.
struct Gearing {
  double ratio;  ///< shaft turns per wheel turn, in the first gear
  Length rolling_circumference;
  duty::ShaftSide side = duty::ShaftSide::rotor;
  std::vector<HigherGear> higher = {};  ///< in their order; none: one fixed ratio

  double ratio_in(std::size_t gear) const { return gear == 0 ? ratio : higher[gear - 1].ratio; }
};

/// Gear at a road speed, counted from 0, after having driven in another one.
///
/// Limits    between shift_down and shift_up the present gear stays.
/// \throws std::invalid_argument if a shift_down lies above its shift_up.
std::size_t gear_at(const Gearing& gearing, Speed road_speed, std::size_t present = 0);

/// One stretch of running: everything turns steadily for a while.
struct Stretch {
  Time dt;
  Length distance;  ///< zero for a machine
  std::size_t phase = 0;
  duty::Drive drive = duty::Drive::traction;
  std::vector<AngularVelocity> speed;  ///< per shaft
  std::vector<Torque> torque;          ///< per shaft, drive positive
  /// Held here whatever the sump does; none: as the sump of the duty.
  std::optional<Temperature> oil = {};
  /// Around the sump; none: as the sump of the duty.
  std::optional<Temperature> ambient = {};
  /// Air at the dry side, per shaft; empty: as the duty.
  std::vector<Temperature> dry = {};
  /// A soak: nothing turns and nothing is counted, neither losses nor time; the sump alone cools.
  bool parked = false;
};

/// The stretches of a driven cycle: shaft speeds at the step's mean speed, shaft torque from the
/// wheel force alone, shared by nobody else. A box starts in its first gear and shifts by the mean
/// speed of the step; shifting itself takes no time.
std::vector<Stretch> stretches(std::span<const duty::Step> steps, std::span<const Gearing> gearing);

/// The oil over a duty: held at a temperature, or warming up from one.
struct SumpDuty {
  duty::SumpNode node;
  Power other_heat;  ///< into the sump from what is not in the account
  Temperature start;
  bool held = false;
  std::optional<duty::AirStream> air = {};  ///< none: the node's conductance at every speed
};

/// The sump in the surroundings of a stretch, as its air stream cools it.
duty::SumpNode node_in(const SumpDuty& sump, const Stretch& stretch);

/// Energy of every part in one phase, apart by what the drive does meanwhile.
struct PhaseLedger {
  Time time;
  Length distance;
  std::vector<std::array<Energy, 3>> by_part;  ///< [part][duty::Drive]

  Energy of_part(std::size_t part) const;
  /// At the battery: each share of the energy at its own marginal price.
  Energy at_battery(std::size_t part, const duty::BatteryPath& path, duty::ShaftSide side) const;
};

struct Ledger {
  std::vector<PhaseLedger> phases;
  Temperature oil_at_end;
  Energy into_sump;  ///< from the parts of the account

  /// Sum over the phases.
  PhaseLedger whole() const;
};

/// What an observer sees of each stretch.
struct Moment {
  const Stretch& stretch;
  Temperature oil;  ///< at its start
  std::span<const PartLoss> losses;
};

/// Marches a unit through a duty: each stretch quasi-steady at the oil temperature it starts with,
/// then the sump takes its exponential step with the heat of the losses just computed.
///
/// Validity  contact temperatures settle within a stretch (time constants well below a minute);
///           the sump is one node; in a soak no heat comes in, neither along the shafts nor from
///           what is not in the account.
/// Limits    held oil: no memory, so any order of the stretches gives the same energies.
/// Accuracy  exact in the sump for constant losses; first order in dt for the coupling.
/// Source    order of the step: derived.
///
/// \param dry     air at the dry side, per shaft, where a stretch names none
/// \param phases  number of phases the stretches name
Ledger march(const DriveUnit& unit, std::span<const Stretch> duty, std::size_t phases,
             const SumpDuty& sump, std::span<const Temperature> dry,
             const std::function<void(const Moment&)>& observe = {});

}  // namespace ohmdrag::energy

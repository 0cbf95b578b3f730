#pragma once

#include <span>

#include "ohmdrag/duty/trace.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::duty {

/// Between the battery and the rotor shaft; gears lie between the rotor and the wheel side.
struct BatteryPath {
  double mean_efficiency = 0.0;          ///< battery to rotor shaft in traction, in (0, 1]
  double load_independent_share = 0.0;   ///< of the electric losses, in [0, 1]: not raised by load
  double recuperation_efficiency = 0.0;  ///< rotor shaft to battery, in [0, 1]
  double recuperation_share = 0.0;       ///< of the braking energy, in [0, 1]; the rest heats pads
  double gear_efficiency = 0.0;          ///< rotor shaft to wheel side, in (0, 1]
};

/// Where in the drive a shaft turns.
enum class ShaftSide { rotor, wheel_side };

/// Battery energy that one more unit of energy lost at a shaft costs (a small extra loss).
///
///     traction      m = 1 + (1 - s) (1/eta - 1)
///     recuperation  m = zeta [1 - (1 - s) (1 - eta_r)]
///     standstill    m = 0
///     wheel side    m / eta_gear in traction, m eta_gear in recuperation
///
/// Sign      positive: a loss costs battery energy (in recuperation: energy not recovered).
/// Validity  losses small against the wheel power; electric losses linear in load with a
///           constant part (share s); zeta the same for every step: both assumed. Braking left to
///           the pads costs nothing, since drag replaces pad work.
/// Limits    s = 0: the mean efficiencies; s = 1: 1 in traction, zeta in recuperation.
/// Source    derived: derivative of battery power with respect to shaft power for P_loss = a + b P.
/// \throws std::invalid_argument if a member of the path is outside its range.
double battery_factor(const BatteryPath& path, Drive drive, ShaftSide side);

/// What a trace takes from the battery.
struct BatteryBalance {
  Energy traction;
  Energy recovered;  ///< >= 0
  Energy auxiliary;
  Length distance;
  Energy total() const { return traction - recovered + auxiliary; }
};

/// Battery energy of the steps as the vehicle stands, auxiliaries included.
///
///     E = E+ / (eta eta_gear) + E- eta_r zeta eta_gear + P_aux t
///
/// Accuracy  no better than the mean efficiencies; absolute consumption is context for differences.
/// Source    derived: energy balance with mean efficiencies.
/// \throws std::invalid_argument if a member of the path is outside its range or the
///         auxiliary power negative.
BatteryBalance battery_balance(std::span<const Step> steps, const BatteryPath& path,
                               Power auxiliary_power);

/// Consumption per distance.
/// \throws std::invalid_argument if the distance is not positive.
EnergyPerDistance consumption(const BatteryBalance& balance);

/// Way that a battery lasts, E/e.
/// \throws std::invalid_argument if the energy is negative or the consumption not positive.
Length range(Energy usable, EnergyPerDistance consumption);

/// Change of the range by an extra consumption.
///
///     dR = -E/e de/(e + de)
///
/// Sign      negative for a loss.
/// Limits    exact for any de, also where both ranges agree to many digits.
/// \throws std::invalid_argument as range() for both consumptions.
Length range_change(Energy usable, EnergyPerDistance consumption, EnergyPerDistance extra);

}  // namespace ohmdrag::duty

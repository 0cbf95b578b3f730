#include "ohmdrag/duty/battery.hpp"

#include <stdexcept>

namespace ohmdrag::duty {

namespace {

bool is_share(double x) { return x >= 0.0 && x <= 1.0; }

void require_path(const BatteryPath& path) {
  if (!(path.mean_efficiency > 0.0 && path.mean_efficiency <= 1.0 && path.gear_efficiency > 0.0 &&
        path.gear_efficiency <= 1.0))
    throw std::invalid_argument("battery path: efficiencies must lie above 0 and not above 1");
  if (!(is_share(path.load_independent_share) && is_share(path.recuperation_efficiency) &&
        is_share(path.recuperation_share)))
    throw std::invalid_argument("battery path: shares and recuperation must lie in 0 to 1");
}

void require_positive(EnergyPerDistance e) {
  if (!(e > EnergyPerDistance{}))
    throw std::invalid_argument("range: consumption must be positive");
}

}  // namespace

double battery_factor(const BatteryPath& path, Drive drive, ShaftSide side) {
  require_path(path);
  const double load_dependent = 1.0 - path.load_independent_share;
  const double gear = side == ShaftSide::wheel_side ? path.gear_efficiency : 1.0;
  switch (drive) {
    case Drive::standstill:
      return 0.0;
    case Drive::traction:
      return (1.0 + load_dependent * (1.0 / path.mean_efficiency - 1.0)) / gear;
    case Drive::recuperation:
      return path.recuperation_share *
             (1.0 - load_dependent * (1.0 - path.recuperation_efficiency)) * gear;
  }
  throw std::invalid_argument("battery factor: unknown state of the drive");
}

BatteryBalance battery_balance(std::span<const Step> steps, const BatteryPath& path,
                               Power auxiliary_power) {
  require_path(path);
  if (!(auxiliary_power >= Power{}))
    throw std::invalid_argument("battery balance: auxiliary power must not be negative");
  const WheelEnergy wheel = wheel_energy(steps);
  Time duration{};
  for (const Step& step : steps) duration += step.dt;
  BatteryBalance balance;
  balance.traction = wheel.traction / (path.mean_efficiency * path.gear_efficiency);
  balance.recovered = -wheel.braking * path.recuperation_efficiency * path.recuperation_share *
                      path.gear_efficiency;
  balance.auxiliary = auxiliary_power * duration;
  balance.distance = wheel.distance;
  return balance;
}

EnergyPerDistance consumption(const BatteryBalance& balance) {
  if (!(balance.distance > Length{}))
    throw std::invalid_argument("consumption: the distance must be positive");
  return balance.total() / balance.distance;
}

Length range(Energy usable, EnergyPerDistance consumption) {
  if (!(usable >= Energy{})) throw std::invalid_argument("range: energy must not be negative");
  require_positive(consumption);
  return usable / consumption;
}

Length range_change(Energy usable, EnergyPerDistance consumption, EnergyPerDistance extra) {
  const Length now = range(usable, consumption);
  require_positive(consumption + extra);
  return -now * (extra / (consumption + extra)).value();
}

}  // namespace ohmdrag::duty

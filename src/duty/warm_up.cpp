#include "ohmdrag/duty/warm_up.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::duty {

ThermalConductance conductance_at(ThermalConductance standing, const AirStream& air, Speed v) {
  if (!(standing >= ThermalConductance{} && air.added >= ThermalConductance{} && air.at > Speed{} &&
        air.exponent >= 0.0 && v >= Speed{}))
    throw std::invalid_argument(
        "sump: reference speed must be positive, conductances, exponent and speed not negative");
  return v > Speed{} ? standing + air.added * std::pow((v / air.at).value(), air.exponent)
                     : standing;
}

Temperature temperature_after(const SumpNode& node, Temperature now, Power heat, Time dt) {
  if (!(node.heat_capacity > HeatCapacity{} && node.conductance >= ThermalConductance{} &&
        dt >= Time{}))
    throw std::invalid_argument(
        "sump: heat capacity must be positive, conductance and step not negative");
  const Power net = heat - node.conductance * (now - node.ambient);
  const double x = (node.conductance * dt / node.heat_capacity).value();
  // (1 - e^-x)/x, 1 at x = 0: the form without T_eq has no division by a zero conductance.
  const double mean_decay = x > 0.0 ? -std::expm1(-x) / x : 1.0;
  const TemperatureDifference rise = net * dt / node.heat_capacity * mean_decay;
  return now + rise;
}

}  // namespace ohmdrag::duty

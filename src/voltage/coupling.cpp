#include "ohmdrag/voltage/coupling.hpp"

#include <numbers>
#include <stdexcept>

#include "ohmdrag/material/permittivity.hpp"

namespace ohmdrag::voltage {

ShaftNode shaft_node(Capacitance winding_rotor, Capacitance rotor_frame, Capacitance bearings) {
  if (!(winding_rotor > Capacitance{} && rotor_frame >= Capacitance{} && bearings >= Capacitance{}))
    throw std::invalid_argument(
        "shaft node: winding to rotor must be positive, the other capacitances not negative");
  return {.winding_rotor = winding_rotor, .total = winding_rotor + rotor_frame + bearings};
}

double bearing_voltage_ratio(const ShaftNode& node) {
  if (!(node.winding_rotor > Capacitance{} && node.total >= node.winding_rotor))
    throw std::invalid_argument("shaft node: needs 0 < C_wr <= C_T");
  return node.winding_rotor / node.total;
}

Capacitance air_gap_capacitance(Length bore, Length stack, Length gap, double carter_factor) {
  if (!(bore > Length{} && stack > Length{} && gap > Length{} && gap < 0.5 * bore &&
        carter_factor >= 1.0))
    throw std::invalid_argument(
        "air gap: needs positive lengths, a gap within the bore and a Carter factor of at least 1");
  return Capacitance::from_value(material::vacuum_permittivity_F_per_m * std::numbers::pi *
                                 double(bore / gap) * stack.value() / carter_factor);
}

}  // namespace ohmdrag::voltage

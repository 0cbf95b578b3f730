#include "ohmdrag/voltage/coupling.hpp"

#include <stdexcept>

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

}  // namespace ohmdrag::voltage

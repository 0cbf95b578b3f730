#include "ohmdrag/voltage/held_voltage.hpp"

#include <cmath>
#include <stdexcept>

#include "ohmdrag/voltage/common_mode.hpp"
#include "voltage/carrier_lanes.hpp"
#include "voltage/step_modes.hpp"

namespace ohmdrag::voltage {

namespace {

Voltage largest_held(const ShaftNode& node, const MaybePath& path, const CarrierPlaces& places,
                     bool after_discharge) {
  const StepModes modes{node, path};
  if (!modes.forgets())
    throw std::invalid_argument("held voltage: a path without resistance has no steady state");
  if (modes.all().empty()) return {};  // shorted
  static const numerics::LaneWidth width = numerics::widest_lanes();
  return Voltage::from_value(largest_held_V(modes, places, after_discharge, width));
}

}  // namespace

Voltage crest_voltage(const ShaftNode& node, Voltage dc_link) {
  return bearing_voltage_ratio(node) * common_mode_levels(dc_link).zero_vector;
}

Voltage rereferenced_voltage(const ShaftNode& node, Voltage dc_link) {
  return bearing_voltage_ratio(node) * edge_step(dc_link, 3);
}

Voltage held_voltage(const ShaftNode& node, const MaybePath& path, const Carrier& carrier) {
  require_defined(carrier);
  if (!path) return crest_voltage(node, carrier.dc_link);
  return largest_held(node, path, CarrierPlaces(carrier), false);
}

Voltage held_voltage(const ShaftNode& node, const MaybePath& path, Voltage dc_link,
                     Frequency carrier, double modulation, Time rise) {
  return held_voltage(node, path, {dc_link, carrier, modulation, rise});
}

Voltage held_after_discharge(const ShaftNode& node, const MaybePath& path, const Carrier& carrier) {
  require_defined(carrier);
  if (!path) return rereferenced_voltage(node, carrier.dc_link);
  return largest_held(node, path, CarrierPlaces(carrier), true);
}

Voltage held_after_discharge(const ShaftNode& node, const MaybePath& path,
                             const CarrierPlaces& places) {
  if (!path) return rereferenced_voltage(node, places.carrier().dc_link);
  return largest_held(node, path, places, true);
}

double least_holding_modulation(const Carrier& carrier) {
  require_defined(carrier);
  return 4.0 * rises_per_hold * double(carrier.rise * carrier.frequency) / 1.5;
}

Time hold_duration(Frequency carrier) {
  if (!(carrier > Frequency{}))
    throw std::invalid_argument("carrier: the frequency must be positive");
  return 0.5 / carrier;
}

}  // namespace ohmdrag::voltage

#include "ohmdrag/voltage/path.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "voltage/path_modes.hpp"

namespace ohmdrag::voltage {

namespace {

double angular_rad_s(Frequency frequency) {
  if (!(frequency >= Frequency{}))
    throw std::invalid_argument("path: the frequency must not be negative");
  return 2.0 * std::numbers::pi * frequency.value();
}

}  // namespace

std::complex<double> impedance_ohm(const GroundingPath& path, Frequency frequency) {
  require_defined(path);
  return {path.resistance.value(), angular_rad_s(frequency) * path.inductance.value()};
}

Resistance impedance_magnitude(const GroundingPath& path, Frequency frequency) {
  return Resistance::from_value(std::abs(impedance_ohm(path, frequency)));
}

double impedance_phase_deg(const GroundingPath& path, Frequency frequency) {
  return std::arg(impedance_ohm(path, frequency)) * 180.0 / std::numbers::pi;
}

std::optional<Frequency> inductive_corner(const GroundingPath& path) {
  require_defined(path);
  if (path.inductance == Inductance{}) return std::nullopt;
  return Frequency::from_value(path.resistance.value() /
                               (2.0 * std::numbers::pi * path.inductance.value()));
}

std::optional<Frequency> path_resonance(const ShaftNode& node, const GroundingPath& path) {
  require_defined(path);
  bearing_voltage_ratio(node);  // refuses an undefined node
  if (path.inductance == Inductance{}) return std::nullopt;
  return Frequency::from_value(
      1.0 / (2.0 * std::numbers::pi * std::sqrt(path.inductance.value() * node.total.value())));
}

std::complex<double> attenuation(const ShaftNode& node, const MaybePath& path,
                                 Frequency frequency) {
  bearing_voltage_ratio(node);  // refuses an undefined node
  const double w_rad_s = angular_rad_s(frequency);
  if (!path) return 1.0;
  const std::complex<double> drive =
      std::complex<double>{0.0, w_rad_s * node.total.value()} * impedance_ohm(*path, frequency);
  return drive / (1.0 + drive);
}

double attenuation_dB(const ShaftNode& node, const MaybePath& path, Frequency frequency) {
  return 20.0 * std::log10(std::abs(attenuation(node, path, frequency)));
}

}  // namespace ohmdrag::voltage

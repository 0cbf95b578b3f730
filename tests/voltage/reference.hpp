#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"

/// An invented machine of middle size: a tenth of the common mode on the shaft.
namespace ohmdrag::test {

using namespace ohmdrag::literals;

inline const voltage::ShaftNode node{.winding_rotor = 100.0_pF, .total = 1.0_nF};
inline const voltage::Carrier carrier{
    .dc_link = 800.0_V, .frequency = 10.0_kHz, .modulation = 0.8, .rise = 50.0_ns};
inline const Voltage one_leg = 266.6666666666667_V;

/// Twelve places in a twelfth of the fundamental, and where two neighbouring legs switch just far
/// enough apart for a hold: M sqrt(3) sin(p) and M sqrt(3) sin(60 degrees - p), a quarter period
/// times these apart.
inline std::vector<double> hold_places_rad(double modulation) {
  std::vector<double> result;
  for (int part = 0; part < 12; ++part)
    result.push_back((part + 0.5) / 12.0 * std::numbers::pi / 6.0);
  const double apart = 4.0 * voltage::rises_per_hold * double(carrier.rise * carrier.frequency);
  const double first_rad = std::asin(apart / (modulation * std::sqrt(3.0))) * (1.0 + 1e-6);
  for (const double place_rad : {first_rad, std::numbers::pi / 3.0 - first_rad})
    if (place_rad < std::numbers::pi / 6.0) result.push_back(place_rad);
  return result;
}

}  // namespace ohmdrag::test

#pragma once

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

}  // namespace ohmdrag::test

// What the trade says about voltages on rotor shafts, as orders of magnitude. None of it has a
// citable source: the checks ask that the model lands where the trade says it lands, no more.

#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/bands.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/edge_response.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"
#include "ohmdrag/voltage/in_words.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::within;

namespace {

// A traction machine in the middle of the trade's range: 10 % of the common mode on the shaft.
const ShaftNode shaft = shaft_node(100.0_pF, 700.0_pF, 200.0_pF);
const Carrier carrier{
    .dc_link = 800.0_V, .frequency = 10.0_kHz, .modulation = 0.8, .rise = 50.0_ns};
const Frequency oscillation = 2.0_MHz;

// An invented dry ring on a shaft of 45 mm.
const contact::DryResistance ring{.bulk = 2.0_ohm,
                                  .film = 2.0_ohm,
                                  .at_line_force = 15.0_N_m,
                                  .at_force = {},
                                  .at_diameter = 45.0_mm,
                                  .count_exponent = 0.5,
                                  .film_exponent = 0.75};
const double ring_friction = 0.2;

const GroundingPath ten_kiloohm{10.0_kohm, 50.0_nH};
const GroundingPath tens_of_ohms{50.0_ohm, 50.0_nH};
const GroundingPath one_ohm_short{1.0_ohm, 20.0_nH};

}  // namespace

// Common practice, no source: links of 300 to 800 V swing the common mode by the whole link.
TEST_CASE("the common mode swings peak to peak by the link voltage", "[derived]") {
  for (const Voltage& link : {300.0_V, 800.0_V}) {
    const Voltage peak_to_peak = 2.0 * common_mode_levels(link).zero_vector;
    CHECK(peak_to_peak >= 300.0_V);
    CHECK(peak_to_peak <= 800.0_V);
  }
}

// Common practice, no source: 10 to 15 % of it reaches the shaft of a traction machine.
TEST_CASE("a tenth to a seventh of the common mode reaches the shaft", "[derived]") {
  CHECK(bearing_voltage_ratio(shaft) >= 0.10 - 1e-12);
  CHECK(bearing_voltage_ratio(shaft_node(150.0_pF, 650.0_pF, 200.0_pF)) <= 0.15 + 1e-12);
  // Tens of volts on an ungrounded shaft.
  CHECK(rereferenced_voltage(shaft, 300.0_V) >= 10.0_V);
  CHECK(rereferenced_voltage(shaft, 800.0_V) <= 120.0_V);
}

// Common practice, no source: switching at 10 to 20 kHz, edges that ring at a few MHz, in and next
// to the medium-wave band.
TEST_CASE("the oscillation of the edges overlaps the medium-wave band", "[derived]") {
  const Ringing ringing{.frequency = 1.5_MHz, .share_of_step = 0.3, .quality = 5.0};
  const auto in_band = ringing_spectrum(ringing, 267.0_V, 1.6065_MHz);
  const auto at_carrier = ringing_spectrum(ringing, 267.0_V, 20.0_kHz);
  CHECK(in_band > at_carrier);
}

// Common practice, no source: bearing protection asks for less than 100 ohm.
TEST_CASE("below 100 ohm nothing stands between the edges", "[derived]") {
  for (const Frequency& switching : {10.0_kHz, 20.0_kHz}) {
    Carrier faster = carrier;
    faster.frequency = switching;
    const Voltage held = held_voltage(shaft, GroundingPath{100.0_ohm, 50.0_nH}, faster);
    CHECK(held < 0.01 * crest_voltage(shaft, carrier.dc_link));
  }
}

// Common practice, no source: interference protection asks for about 1 ohm.
TEST_CASE("interference in the medium-wave band asks for about one ohm", "[derived]") {
  const Band band{.name = "medium wave", .from = 0.5265_MHz, .to = 1.6065_MHz};
  CHECK(band_reduction(shaft, one_ohm_short, band).reduction_dB > 30.0);
  CHECK(band_reduction(shaft, tens_of_ohms, band).reduction_dB < 10.0);
}

// Single claim, no source: 10 kohm leaves edges standing on an 800 V system.
TEST_CASE("ten kiloohms leave voltage standing at 800 V", "[derived]") {
  CHECK(effect(shaft, ten_kiloohm, carrier, oscillation) == Effect::leaves_standing);
  CHECK(held_voltage(shaft, ten_kiloohm, carrier) > 10.0_V);
  CHECK(edge_peak(shaft, ten_kiloohm, edge_step(800.0_V, 1), 50.0_ns) > 25.0_V);
}

// Single claim, no source: tens of ohms leave spikes and the MHz oscillation.
TEST_CASE("tens of ohms leave spikes and the oscillation", "[derived]") {
  CHECK(effect(shaft, tens_of_ohms, carrier, oscillation) == Effect::leaves_spikes);
  CHECK(edge_peak(shaft, tens_of_ohms, edge_step(800.0_V, 1), 50.0_ns) > 10.0_V);
  CHECK(attenuation_dB(shaft, tens_of_ohms, oscillation) > -10.0);
}

// Single claim, no source: about 1 ohm with a short path removes both.
TEST_CASE("one ohm on a short path removes both", "[derived]") {
  CHECK(effect(shaft, one_ohm_short, carrier, oscillation) == Effect::removes_both);
  CHECK(edge_peak(shaft, one_ohm_short, edge_step(800.0_V, 1), 50.0_ns) < 3.0_V);
}

// Common practice, no source: a phase of 0 degrees is a resistance, +90 an inductance, -90 a
// capacitance. A contact with its path is all three, one after another.
TEST_CASE("the phase of an impedance says what it is", "[derived]") {
  CHECK_THAT(impedance_phase_deg({1.0_ohm, 0.0_nH}, 1.0_MHz), within(0.0, 1e-12));
  CHECK_THAT(impedance_phase_deg({0.0_ohm, 50.0_nH}, 1.0_MHz), within(90.0, 1e-12));
  const GroundingPath filmed{0.0_ohm, 0.0_nH, {{1e9 * 1.0_ohm, 100.0_pF}}};
  CHECK_THAT(impedance_phase_deg(filmed, 1.0_MHz), within(-90.0, 1e-3));
  const GroundingPath contact{1.0_ohm, 50.0_nH, {}, 20.0_pF};
  CHECK_THAT(impedance_phase_deg(contact, 1.0_kHz), within(0.0, 0.1));
  CHECK_THAT(impedance_phase_deg(contact, 100.0_MHz), within(90.0, 5.0));
  CHECK_THAT(impedance_phase_deg(contact, 1000.0_MHz), within(-90.0, 5.0));
}

// Common practice, no source: whichever path is chosen, small peaks remain where the edges are
// steep.
TEST_CASE("small peaks of steep edges remain with any path", "[derived]") {
  const Voltage without = edge_peak(shaft, std::nullopt, edge_step(800.0_V, 1), 20.0_ns);
  for (const GroundingPath& path : {one_ohm_short, tens_of_ohms}) {
    const auto peak = [&](Time rise) {
      return edge_peak(shaft, path, edge_step(800.0_V, 1), rise);
    };
    CHECK(peak(20.0_ns) > 0.05 * without);
    CHECK(peak(20.0_ns) < without);
    CHECK(peak(20.0_ns) > peak(50.0_ns));
    CHECK(peak(50.0_ns) > peak(200.0_ns));
    CHECK(peak(200.0_ns) > Voltage{});
  }
}

// Common practice, no source: more contact force means less impedance and more friction.
TEST_CASE("more force lowers the impedance and raises the friction", "[derived]") {
  Resistance last_resistance = 1.0_kohm;
  Torque last_torque;
  for (double force_N_m = 5.0; force_N_m < 45.0; force_N_m += 2.5) {
    const LineForce force = force_N_m * 1.0_N_m;
    const Resistance resistance = contact::ring_resistance(ring, force, 45.0_mm).value;
    const Torque torque =
        contact::friction_torque(ring_friction, contact::radial_load(force, 45.0_mm), 45.0_mm);
    CHECK(resistance < last_resistance);
    CHECK(torque > last_torque);
    last_resistance = resistance;
    last_torque = torque;
  }
}

// Common practice, no source: a grounding element adds single-digit watts at 60 km/h. Invented
// van: 2.1 m tyre circumference, rotor geared 10 to 1.
TEST_CASE("a grounding element adds single-digit watts at 60 km/h", "[derived]") {
  const double rotor_turns_per_s = double(60.0_kmh / 2.1_m * 1.0_s) * 10.0;
  const AngularVelocity speed = from_rpm(60.0 * rotor_turns_per_s);
  const Torque torque =
      contact::friction_torque(ring_friction, contact::radial_load(15.0_N_m, 45.0_mm), 45.0_mm);
  const Power power = torque * speed;
  CHECK(power >= 1.0_W);
  CHECK(power < 10.0_W);
}

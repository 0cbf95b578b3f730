// What a grounding path is made of: impedance of a contact with inductance, capacitance and film,
// inductance of wire and shaft, skin depth. Values computed once by an independent script from
// circuit theory and from textbook formulas (F. W. Grover, Inductance Calculations, 1947; skin
// depth of any text on electromagnetic fields; both from memory).
#include <cmath>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/edge_response.hpp"
#include "ohmdrag/voltage/path.hpp"
#include "ohmdrag/voltage/path_geometry.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {
const ShaftNode reference{.winding_rotor = 100.0_pF, .total = 1.0_nF};
}

TEST_CASE("a contact with inductance and a capacitance across it", "[derived]") {
  struct Row {
    Frequency f;
    Resistance magnitude;
    double tolerance;
    double phase_deg;
    double tolerance_deg;
  };
  const auto row = GENERATE(
      Row{10.0_kHz, 1.0000_ohm, 1e-4, 0.18, 5e-3}, Row{1.0_MHz, 1.048_ohm, 5e-4, 17.4, 0.05},
      Row{2.0_MHz, 1.1812_ohm, 1e-3, 32.13, 0.01}, Row{10.0_MHz, 3.310_ohm, 5e-4, 72.3, 0.05});
  const GroundingPath path{1.0_ohm, 50.0_nH, {}, 20.0_pF};
  CAPTURE(row.f.value());
  CHECK_THAT(impedance_magnitude(path, row.f), near(row.magnitude, row.tolerance));
  CHECK_THAT(impedance_phase_deg(path, row.f), within(row.phase_deg, row.tolerance_deg));
}

TEST_CASE("what a Bode picture of an impedance says", "[derived]") {
  // Inductance above R/(2 pi L).
  const GroundingPath contact{1.0_ohm, 50.0_nH};
  CHECK_THAT(*inductive_corner(contact), near(3.18_MHz, 2e-3));
  CHECK_THAT(impedance_magnitude(contact, 318.0_MHz), near(100.0_ohm, 2e-3));
  CHECK_THAT(impedance_phase_deg(contact, 318.0_MHz), within(90.0, 0.6));
  // A peak L/(R C) at the resonance with what lies across, then down.
  const GroundingPath resonant{1.0_ohm, 50.0_nH, {}, 20.0_pF};
  CHECK_THAT(impedance_magnitude(resonant, 159.15_MHz), near(2500.0_ohm, 2e-3));
  CHECK(impedance_phase_deg(resonant, 1000.0_MHz) < -89.0);
  // A film: a high plateau, its corner, and down to the rest.
  const GroundingPath filmed{1.0_ohm, 0.0_nH, {{10.0_kohm, 100.0_pF}}};
  CHECK_THAT(impedance_magnitude(filmed, 100.0_Hz), near(10001.0_ohm, 1e-5));
  CHECK_THAT(impedance_magnitude(filmed, 159.15_kHz), near(7072.0_ohm, 1e-3));
  CHECK_THAT(impedance_magnitude(filmed, 2.0_MHz), near(793.0_ohm, 1e-3));
}

TEST_CASE("many unequal films flatten the phase over decades", "[derived]") {
  GroundingPath path{1.0_ohm, 0.0_nH};
  for (double time_s = 1e-8; time_s < 2e-3; time_s *= 10.0) {
    // Resistances that rise with the root of the time constant: near -45 degrees between them.
    const Resistance r = std::sqrt(time_s / 1e-8) * 10.0_ohm;
    path.films.push_back({r, Capacitance::from_value(time_s / r.value())});
  }
  for (double f_Hz = 1e3; f_Hz < 3e6; f_Hz *= 2.0)
    CHECK_THAT(impedance_phase_deg(path, Frequency::from_value(f_Hz)), within(-43.0, 8.0));
}

TEST_CASE("inductance of a wire at high frequency and at a direct current", "[formula]") {
  CHECK_THAT(wire_inductance(100.0_mm, 1.0_mm), near(99.8_nH, 1e-3));
  CHECK_THAT(wire_inductance_at_direct_current(100.0_mm, 1.0_mm), near(104.8_nH, 1e-3));
}

TEST_CASE("reactance of path inductances", "[derived]") {
  struct Row {
    Inductance l;
    double at_1_MHz, at_2_MHz, at_10_MHz;
  };
  const auto row = GENERATE(Row{10.0_nH, 0.063, 0.126, 0.63}, Row{50.0_nH, 0.31, 0.63, 3.1},
                            Row{100.0_nH, 0.63, 1.26, 6.3});
  const auto reactance = [&](Frequency f) {
    return impedance_ohm(GroundingPath{0.0_ohm, row.l}, f).imag();
  };
  CHECK_THAT(reactance(1.0_MHz), near(row.at_1_MHz, 0.02));
  CHECK_THAT(reactance(2.0_MHz), near(row.at_2_MHz, 0.02));
  CHECK_THAT(reactance(10.0_MHz), near(row.at_10_MHz, 0.02));
}

TEST_CASE("skin depth of steel and copper", "[formula]") {
  struct Row {
    double resistivity_ohm_m, permeability;
    Frequency f;
    Length depth;
  };
  // Half a printed digit.
  const auto row =
      GENERATE(Row{2.2e-7, 100.0, 10.0_kHz, 236.0_um}, Row{2.2e-7, 100.0, 1.0_MHz, 23.6_um},
               Row{2.2e-7, 100.0, 2.0_MHz, 16.7_um}, Row{1.72e-8, 1.0, 10.0_kHz, 660.0_um},
               Row{1.72e-8, 1.0, 1.0_MHz, 66.0_um}, Row{1.72e-8, 1.0, 2.0_MHz, 47.0_um});
  CAPTURE(row.resistivity_ohm_m, row.f.value());
  CHECK_THAT(skin_depth(Resistivity::from_value(row.resistivity_ohm_m), row.permeability, row.f),
             near(row.depth, 8e-3));
}

TEST_CASE("the shaft between contact and far bearing adds to the path", "[derived]") {
  const auto nH_per_mm = [](double value) { return InductancePerLength::from_value(1e-6 * value); };
  CHECK_THAT(shaft_inductance(300.0_mm, nH_per_mm(0.35)), near(105.0_nH, 1e-12));
  CHECK_THAT(shaft_inductance(300.0_mm, nH_per_mm(0.2)), near(60.0_nH, 1e-12));
  CHECK_THAT(shaft_inductance(300.0_mm, nH_per_mm(0.5)), near(150.0_nH, 1e-12));
  // The far bearing is protected less, above the corner of the contact's own path.
  const GroundingPath near_path{1.0_ohm, 20.0_nH};
  const GroundingPath far_path{1.0_ohm, 20.0_nH + shaft_inductance(300.0_mm, nH_per_mm(0.35))};
  CHECK(attenuation_dB(reference, far_path, 5.0_MHz) >
        attenuation_dB(reference, near_path, 5.0_MHz) + 6.0);
  CHECK_THAT(attenuation_dB(reference, far_path, 10.0_kHz),
             within(attenuation_dB(reference, near_path, 10.0_kHz), 1e-3));
}

TEST_CASE("what a path leaves does not depend on the link voltage", "[derived]") {
  const GroundingPath path{3.0_ohm, 50.0_nH, {{200.0_ohm, 100.0_pF}}, 20.0_pF};
  const double share =
      (edge_peak(reference, path, edge_step(400.0_V, 1), 20.0_ns) / edge_step(400.0_V, 1)).value();
  CHECK_THAT(
      (edge_peak(reference, path, edge_step(900.0_V, 1), 20.0_ns) / edge_step(900.0_V, 1)).value(),
      near(share, 1e-9));
}

TEST_CASE("amplification above the resonance", "[derived]") {
  const GroundingPath path{1.0_ohm, 50.0_nH};
  CHECK_THAT(attenuation_dB(reference, path, 22.6_MHz), within(17.0, 0.2));
  CHECK(attenuation_dB(reference, path, 15.8_MHz) < 0.0);
  CHECK(attenuation_dB(reference, path, 16.0_MHz) > 0.0);
}

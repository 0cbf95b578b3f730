// Values of the reference shaft (C_wr 100 pF, C_T 1 nF) computed once by an independent script from
// circuit theory: they prove typing and continuity, not truth.
#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/bands.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/discharge.hpp"
#include "ohmdrag/voltage/edge_response.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {

const ShaftNode reference{.winding_rotor = 100.0_pF, .total = 1.0_nF};
const Voltage one_leg = edge_step(800.0_V, 1);

}  // namespace

TEST_CASE("levels and steps of the common mode", "[derived]") {
  struct Row {
    Voltage link, zero, active, step;
  };
  const auto row = GENERATE(Row{400.0_V, 200.0_V, 66.666666666667_V, 133.333333333333_V},
                            Row{800.0_V, 400.0_V, 133.333333333333_V, 266.666666666667_V});
  CHECK_THAT(common_mode_levels(row.link).zero_vector, near(row.zero, 1e-12));
  CHECK_THAT(common_mode_levels(row.link).active_vector, near(row.active, 1e-12));
  CHECK_THAT(edge_step(row.link, 1), near(row.step, 1e-12));
  CHECK_THAT(edge_step(row.link, 3), near(row.link, 1e-12));
}

TEST_CASE("zero vectors, rms and carrier component over modulation", "[derived]") {
  struct Row {
    double modulation, share, rms, carrier;
  };
  // Holmes and Lipo, 2003, double Fourier series (from memory) for the last column; sampled waves
  // of 48 000 to 96 000 points agreed to 0.001 V_dc.
  const auto row = GENERATE(Row{0.0, 1.0, 0.5, 0.6366}, Row{0.5, 0.5865, 0.3976, 0.5422},
                            Row{0.8, 0.3384, 0.32090, 0.4090}, Row{1.0, 0.1730, 0.25734, 0.30049});
  CAPTURE(row.modulation);
  CHECK_THAT(zero_vector_share(row.modulation), within(row.share, 1e-4));
  CHECK_THAT(common_mode_rms(1.0_V, row.modulation),
             within(Voltage::from_value(row.rms), Voltage::from_value(1e-4)));
  CHECK_THAT(carrier_component(1.0_V, row.modulation),
             within(Voltage::from_value(row.carrier), Voltage::from_value(1e-4)));
}

TEST_CASE("zero vectors and rms at the linear limit", "[derived]") {
  CHECK_THAT(zero_vector_share(linear_modulation_limit()), within(0.0451, 1e-4));
  CHECK_THAT(common_mode_rms(1.0_V, linear_modulation_limit()),
             within(Voltage::from_value(0.1944), Voltage::from_value(1e-4)));
}

TEST_CASE("harmonics and envelope of the square wave at standstill", "[derived]") {
  Trapezoid wave{.amplitude = 800.0_V, .width = 50.0_us, .rise = 50.0_ns, .period = 100.0_us};
  CHECK_THAT(harmonic_amplitude(wave, 1), near(509.30_V, 1e-4));
  CHECK_THAT(harmonic_amplitude(wave, 3), near(169.8_V, 5e-4));
  CHECK_THAT(harmonic_envelope(wave, 1.0_MHz), near(5.0930_V, 1e-4));
  CHECK_THAT(harmonic_envelope(wave, 2.0_MHz), near(2.546_V, 5e-4));
  CHECK_THAT(harmonic_envelope(wave, 20.0_MHz), near(0.0811_V, 1e-3));
  wave.rise = 100.0_ns;
  CHECK_THAT(harmonic_envelope(wave, 20.0_MHz), near(0.0405_V, 2e-3));
}

TEST_CASE("spectrum of a ringing edge", "[derived]") {
  const Ringing ringing{.frequency = 2.0_MHz, .share_of_step = 1.0, .quality = 10.0};
  CHECK_THAT(ringing_spectrum(ringing, 100.0_V, 2.0_MHz),
             near(SpectralVoltage::from_value(7.955e-5), 1e-3));
  CHECK_THAT(ringing_line_amplitude(ringing, 100.0_V, 10.0_kHz, 2.0_MHz), near(1.591_V, 1e-3));
}

TEST_CASE("attenuation of the reference shaft", "[derived]") {
  struct Row {
    Resistance r;
    Inductance l;
    Frequency f;
    double dB;
    double tolerance_dB;
  };
  const auto row = GENERATE(
      Row{10.0_kohm, 0.0_nH, 10.0_kHz, -5.481, 1e-3},
      Row{50.0_ohm, 0.0_nH, 10.0_kHz, -50.057, 1e-3}, Row{1.0_ohm, 0.0_nH, 10.0_kHz, -84.036, 1e-3},
      Row{10.0_kohm, 0.0_nH, 2.0_MHz, -0.0003, 1e-4}, Row{50.0_ohm, 0.0_nH, 2.0_MHz, -5.481, 1e-3},
      Row{1.0_ohm, 0.0_nH, 2.0_MHz, -38.016, 1e-3}, Row{1.0_ohm, 50.0_nH, 2.0_MHz, -36.503, 1e-3},
      Row{1.0_kohm, 0.0_nH, 10.0_kHz, -24.05, 6e-3}, Row{1.0_kohm, 0.0_nH, 0.53_MHz, -0.37, 6e-3},
      Row{50.0_ohm, 0.0_nH, 0.53_MHz, -15.69, 6e-3}, Row{50.0_ohm, 0.0_nH, 1.0_MHz, -10.47, 6e-3},
      Row{50.0_ohm, 0.0_nH, 1.6065_MHz, -6.92, 6e-3}, Row{10.0_ohm, 0.0_nH, 1.0_MHz, -24.05, 6e-3},
      Row{10.0_ohm, 0.0_nH, 2.0_MHz, -18.08, 6e-3}, Row{1.0_ohm, 50.0_nH, 0.53_MHz, -49.43, 6e-3},
      Row{1.0_ohm, 50.0_nH, 1.6065_MHz, -38.89, 6e-3},
      Row{0.1_ohm, 50.0_nH, 10.0_kHz, -104.03, 6e-3}, Row{0.1_ohm, 50.0_nH, 1.0_MHz, -53.66, 6e-3},
      Row{0.1_ohm, 50.0_nH, 2.0_MHz, -41.87, 6e-3}, Row{10.0_kohm, 0.0_nH, 0.53_MHz, 0.0, 6e-3},
      Row{10.0_kohm, 0.0_nH, 1.0_MHz, 0.0, 6e-3}, Row{10.0_kohm, 0.0_nH, 1.6065_MHz, 0.0, 6e-3},
      Row{1.0_kohm, 0.0_nH, 1.0_MHz, -0.11, 6e-3}, Row{1.0_kohm, 0.0_nH, 1.6065_MHz, -0.04, 6e-3},
      Row{1.0_kohm, 0.0_nH, 2.0_MHz, -0.03, 6e-3}, Row{10.0_ohm, 0.0_nH, 10.0_kHz, -64.04, 6e-3},
      Row{10.0_ohm, 0.0_nH, 0.53_MHz, -29.56, 6e-3},
      Row{10.0_ohm, 0.0_nH, 1.6065_MHz, -19.96, 6e-3}, Row{1.0_ohm, 0.0_nH, 0.53_MHz, -49.55, 6e-3},
      Row{1.0_ohm, 0.0_nH, 1.0_MHz, -44.04, 6e-3}, Row{1.0_ohm, 0.0_nH, 1.6065_MHz, -39.92, 6e-3},
      Row{1.0_ohm, 50.0_nH, 10.0_kHz, -84.04, 6e-3}, Row{1.0_ohm, 50.0_nH, 1.0_MHz, -43.61, 6e-3},
      Row{0.1_ohm, 50.0_nH, 0.53_MHz, -63.78, 6e-3},
      Row{0.1_ohm, 50.0_nH, 1.6065_MHz, -45.65, 6e-3});
  CAPTURE(row.r.value(), row.l.value(), row.f.value());
  CHECK_THAT(attenuation_dB(reference, GroundingPath{row.r, row.l}, row.f),
             within(row.dB, row.tolerance_dB));
}

TEST_CASE("edge peaks of the reference shaft", "[derived]") {
  struct Row {
    Resistance r;
    Inductance l;
    Time rise;
    Voltage peak;
    double tolerance;
  };
  const auto row = GENERATE(
      Row{50.0_ohm, 0.0_nH, 100.0_ns, 11.529_V, 1e-4},
      Row{1.0_ohm, 0.0_nH, 100.0_ns, 0.26667_V, 1e-4},
      Row{1.0_ohm, 50.0_nH, 100.0_ns, 1.945_V, 5e-3}, Row{1.0_ohm, 50.0_nH, 50.0_ns, 3.890_V, 5e-3},
      Row{1.0_ohm, 50.0_nH, 20.0_ns, 14.92_V, 5e-3}, Row{10.0_kohm, 0.0_nH, 100.0_ns, 26.5_V, 2e-3},
      Row{10.0_kohm, 0.0_nH, 50.0_ns, 26.6_V, 2e-3}, Row{10.0_kohm, 0.0_nH, 20.0_ns, 26.6_V, 2e-3},
      Row{1.0_ohm, 0.0_nH, 50.0_ns, 0.533_V, 1e-3}, Row{50.0_ohm, 0.0_nH, 50.0_ns, 16.9_V, 3e-3},
      Row{50.0_ohm, 0.0_nH, 20.0_ns, 22.0_V, 3e-3}, Row{10.0_ohm, 0.0_nH, 100.0_ns, 2.67_V, 2e-3},
      Row{10.0_ohm, 0.0_nH, 50.0_ns, 5.30_V, 1e-3}, Row{10.0_ohm, 0.0_nH, 20.0_ns, 11.5_V, 5e-3},
      Row{1.0_ohm, 0.0_nH, 20.0_ns, 1.33_V, 3e-3}, Row{1.0_ohm, 20.0_nH, 100.0_ns, 1.25_V, 5e-3},
      Row{1.0_ohm, 20.0_nH, 50.0_ns, 2.51_V, 5e-3}, Row{1.0_ohm, 20.0_nH, 20.0_ns, 6.76_V, 5e-3},
      Row{1.0_ohm, 100.0_nH, 100.0_ns, 3.84_V, 5e-3}, Row{1.0_ohm, 100.0_nH, 50.0_ns, 5.54_V, 5e-3},
      Row{1.0_ohm, 100.0_nH, 20.0_ns, 19.2_V, 5e-3},
      // More resistance damps the resonance before it raises the spike.
      Row{0.1_ohm, 50.0_nH, 20.0_ns, 18.2_V, 5e-3}, Row{3.0_ohm, 50.0_nH, 20.0_ns, 10.4_V, 5e-3},
      Row{10.0_ohm, 50.0_nH, 20.0_ns, 14.1_V, 5e-3}, Row{50.0_ohm, 50.0_nH, 20.0_ns, 22.3_V, 5e-3});
  CAPTURE(row.r.value(), row.l.value(), row.rise.value());
  CHECK_THAT(edge_peak(reference, GroundingPath{row.r, row.l}, one_leg, row.rise),
             near(row.peak, row.tolerance));
}

TEST_CASE("edges of all three legs together and of half the link voltage", "[derived]") {
  struct Row {
    Resistance r;
    Time rise;
    Voltage peak;
  };
  const auto row = GENERATE(Row{1.0_ohm, 100.0_ns, 0.80_V}, Row{1.0_ohm, 50.0_ns, 1.60_V},
                            Row{1.0_ohm, 20.0_ns, 4.0_V}, Row{50.0_ohm, 100.0_ns, 34.6_V},
                            Row{50.0_ohm, 50.0_ns, 50.6_V}, Row{50.0_ohm, 20.0_ns, 65.9_V});
  const GroundingPath path{row.r, 0.0_nH};
  CHECK_THAT(edge_peak(reference, path, edge_step(800.0_V, 3), row.rise), near(row.peak, 2e-3));
  CHECK_THAT(edge_peak(reference, path, edge_step(400.0_V, 3), row.rise),
             near(0.5 * row.peak, 2e-3));
}

TEST_CASE("corner of a resistance with the shaft's capacitance", "[derived]") {
  struct Row {
    Resistance r;
    Frequency corner;
  };
  const auto row =
      GENERATE(Row{10.0_kohm, 15.9_kHz}, Row{1.0_kohm, 159.0_kHz}, Row{50.0_ohm, 3.18_MHz},
               Row{10.0_ohm, 15.9_MHz}, Row{1.0_ohm, 159.0_MHz});
  // Half the power is left there.
  CHECK_THAT(attenuation_dB(reference, GroundingPath{row.r, 0.0_nH}, row.corner),
             within(-3.01, 0.01));
}

TEST_CASE("oscillation of 100 V at 2 MHz on the winding", "[derived]") {
  struct Row {
    MaybePath path;
    Voltage left;
  };
  const auto row = GENERATE(
      Row{std::nullopt, 10.0_V}, Row{GroundingPath{10.0_kohm, 0.0_nH}, 10.0_V},
      Row{GroundingPath{50.0_ohm, 0.0_nH}, 5.32_V}, Row{GroundingPath{1.0_ohm, 0.0_nH}, 0.126_V},
      Row{GroundingPath{1.0_ohm, 50.0_nH}, 0.150_V});
  CHECK_THAT(oscillation_amplitude(reference, row.path, 100.0_V, 2.0_MHz), near(row.left, 5e-3));
}

TEST_CASE("crest of the film voltage and after a discharge", "[derived]") {
  struct Row {
    double percent;
    Voltage crest_400, crest_800, after_400, after_800;
  };
  const auto row = GENERATE(
      Row{3.0, 6.0_V, 12.0_V, 12.0_V, 24.0_V}, Row{5.0, 10.0_V, 20.0_V, 20.0_V, 40.0_V},
      Row{10.0, 20.0_V, 40.0_V, 40.0_V, 80.0_V}, Row{15.0, 30.0_V, 60.0_V, 60.0_V, 120.0_V});
  const ShaftNode node{.winding_rotor = row.percent * 0.01 * 1.0_nF, .total = 1.0_nF};
  CHECK_THAT(crest_voltage(node, 400.0_V), near(row.crest_400, 1e-12));
  CHECK_THAT(crest_voltage(node, 800.0_V), near(row.crest_800, 1e-12));
  CHECK_THAT(rereferenced_voltage(node, 400.0_V), near(row.after_400, 1e-12));
  CHECK_THAT(rereferenced_voltage(node, 800.0_V), near(row.after_800, 1e-12));
}

TEST_CASE("peak current and energy of a discharge", "[derived]") {
  struct Row {
    Inductance l;
    Resistance r;
    Current peak;
    double tolerance;
  };
  const auto row =
      GENERATE(Row{100.0_nH, 5.0_ohm, 1.4231_A, 1e-4}, Row{100.0_nH, 20.0_ohm, 0.73576_A, 1e-4},
               Row{100.0_nH, 50.0_ohm, 0.36191_A, 1e-4}, Row{20.0_nH, 2.0_ohm, 3.28_A, 2e-3});
  CAPTURE(row.r.value());
  CHECK_THAT(peak_discharge_current(20.0_V, {row.l, row.r, 1.0_nF}), near(row.peak, row.tolerance));
  CHECK_THAT(discharge_energy(1.0_nF, 10.0_V), near(Energy::from_value(50e-9), 1e-12));
  CHECK_THAT(discharge_energy(1.0_nF, 20.0_V), near(Energy::from_value(200e-9), 1e-12));
  CHECK_THAT(discharge_energy(1.0_nF, 30.0_V), near(Energy::from_value(450e-9), 1e-12));
  CHECK_THAT(discharge_energy(0.2_nF, 20.0_V), near(Energy::from_value(40e-9), 1e-12));
}

TEST_CASE("reduction in the medium-wave protection band", "[derived]") {
  struct Row {
    GroundingPath path;
    double at_low_end_dB, weakest_dB;
  };
  const auto row = GENERATE(Row{{1.0_ohm, 50.0_nH}, 49.0, 38.0}, Row{{50.0_ohm, 0.0_nH}, 16.0, 6.0},
                            Row{{10.0_kohm, 0.0_nH}, 0.0, 0.0});
  const Band band{.name = "medium wave", .from = 0.53_MHz, .to = 1.8_MHz};
  const BandReduction reduction = band_reduction(reference, row.path, band);
  CHECK_THAT(-attenuation_dB(reference, row.path, band.from), within(row.at_low_end_dB, 0.5));
  CHECK_THAT(reduction.reduction_dB, within(row.weakest_dB, 0.5));
  CHECK(reduction.weakest_at == band.to);
}

TEST_CASE("edges of two legs that meet", "[derived]") {
  // 12 kHz, 50 ns, M 0.8: 79 double edges a second.
  CHECK_THAT(edge_rates(12.0_kHz, 0.8, 50.0_ns).two_legs, within(79.0_Hz, 0.5_Hz));
}

// The common mode of a two-level inverter as a whole waveform: its harmonics against the closed
// forms of its source, and the estimates of its coupling to the shaft.
#include <cmath>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/harmonic_envelope.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"
#include "ohmdrag/voltage/inverter_source.hpp"
#include "ohmdrag/voltage/waveform.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {

InverterSource source_of(Voltage link, ModulationKind kind, Time ramp) {
  return {.dc_link = link,
          .carrier = 10.0_kHz,
          .rise = ramp,
          .fall = ramp,
          .modulation = kind,
          .ringing = {}};
}

/// The line at the carrier in a whole fundamental of many carrier periods, per volt of link.
double carrier_line(ModulationKind kind, double modulation) {
  const auto whole = fundamental_waveform(source_of(1.0_V, kind, 0.1_ns), modulation, 25.0_Hz);
  return std::abs(harmonic_V(whole.waveform, whole.carrier_periods));
}

double decibel_microvolt(double volt) { return 20.0 * std::log10(volt / 1e-6); }

}  // namespace

// Holmes and Lipo, Pulse Width Modulation for Power Converters, 2003, double Fourier series of the
// three-phase inverter, sine-triangle, natural sampling (from memory): (2/pi) J0(pi M/2) of the
// link at the carrier. Here regular sampling 400 times a fundamental.
TEST_CASE("the carrier line of sine-triangle modulation is that of the double Fourier series",
          "[formula]") {
  struct Row {
    double modulation, line;
  };
  const auto row = GENERATE(Row{0.0, 0.6366}, Row{0.5, 0.5422}, Row{0.8, 0.4090}, Row{1.0, 0.3005});
  CAPTURE(row.modulation);
  CHECK_THAT(carrier_line(ModulationKind::sine_triangle, row.modulation), within(row.line, 1e-4));
}

// Abramowitz and Stegun, table 9.1, J0 at pi/2 (from memory): 0.47200.
TEST_CASE("the carrier component at full modulation is 0.3005 of the link", "[formula]") {
  const double at_full = carrier_component(1.0_V, 1.0).value();
  CHECK_THAT(at_full * std::numbers::pi / 2.0, within(0.47200, 1e-5));
  CHECK_THAT(at_full, within(0.30049, 1e-5));
}

// Derived: (2/pi) mean of cos(pi m/2) over the references; sampled waves of 48 000 to 96 000 points
// agreed to 0.001 of the link.
TEST_CASE("the carrier line of space-vector modulation is that of its references", "[derived]") {
  struct Row {
    double modulation, line, tolerance;
  };
  const auto row = GENERATE(Row{0.0, 0.6366, 1e-4}, Row{0.8, 0.396, 5e-4}, Row{1.0, 0.278, 5e-4},
                            Row{1.1547, 0.1803, 1e-4});
  CAPTURE(row.modulation);
  constexpr auto space_vector = ModulationKind::space_vector;
  CHECK_THAT(carrier_component(1.0_V, row.modulation, space_vector).value(),
             within(row.line, row.tolerance));
  CHECK_THAT(carrier_line(space_vector, row.modulation), within(row.line, row.tolerance));
}

TEST_CASE("both modulations spend the same time in the zero vectors", "[derived]") {
  struct Row {
    double modulation, rms;
  };
  const auto row = GENERATE(Row{0.0, 0.5000}, Row{0.5, 0.3976}, Row{0.8, 0.3209}, Row{1.0, 0.2573},
                            Row{1.1547, 0.1944});
  const auto kind = GENERATE(ModulationKind::sine_triangle, ModulationKind::space_vector);
  CAPTURE(row.modulation, int(kind));
  const auto whole = fundamental_waveform(source_of(1.0_V, kind, 0.1_ns), row.modulation, 25.0_Hz);
  CHECK_THAT(std::sqrt(mean_square(whole.waveform).value()), within(row.rms, 1e-4));
}

// Exercise 3.4Z on the trapezoidal pulse, Technical University of Munich, signal representation:
// t1 = 4 ms, t2 = 6 ms, 1 V: dt = 10 ms, roll-off 0.2, X(0) = 10 mV/Hz, X = A dt si si. Repeated
// once a second its harmonics are 2 X(n)/T.
TEST_CASE("the harmonics of a repeated trapezoidal pulse follow its transform", "[formula]") {
  const Waveform pulse{
      .period = 1.0_s,
      .corners = {{0.494_s, 0.0_V}, {0.496_s, 1.0_V}, {0.504_s, 1.0_V}, {0.506_s, 0.0_V}},
      .oscillations = {}};
  const auto c = harmonics_V(pulse, 1000);
  CHECK_THAT(c[0].real(), near(10e-3, 1e-12));
  const auto si = [](double x) { return std::sin(std::numbers::pi * x) / (std::numbers::pi * x); };
  for (const int n : {1, 17, 33, 99, 250, 777}) {
    const double transform = 10e-3 * std::abs(si(0.01 * n) * si(0.002 * n));
    CHECK_THAT(std::abs(c[std::size_t(n)]), near(2.0 * transform, 1e-9));
  }
  for (const int zero : {100, 200, 500}) CHECK(std::abs(c[std::size_t(zero)]) < 1e-15);
}

// Paul, Introduction to Electromagnetic Compatibility (from memory), for the envelope; corners
// 1/(pi tau) and 1/(pi t_r) also in the trapezoid nomogram of Design and Development of Medical
// Electronic Instrumentation, ch. 4. At standstill, 10 kHz, half a period wide.
TEST_CASE("harmonics and envelope of the common mode at standstill", "[formula]") {
  constexpr auto kind = ModulationKind::sine_triangle;
  const auto c = harmonics_V(carrier_waveform(source_of(800.0_V, kind, 50.0_ns), 0.0, 0.0), 3);
  CHECK_THAT(std::abs(c[1]), near(509.3, 1e-4));
  CHECK_THAT(std::abs(c[2]), within(0.0, 1e-9));
  CHECK_THAT(std::abs(c[3]), near(169.8, 5e-4));
  const auto d = harmonics_V(carrier_waveform(source_of(400.0_V, kind, 50.0_ns), 0.0, 0.0), 3);
  CHECK_THAT(std::abs(d[1]), near(254.6, 5e-4));
  CHECK_THAT(std::abs(d[3]), near(84.9, 5e-4));

  struct Row {
    Time ramp;
    Frequency frequency;
    double envelope_V, half_a_digit;
  };
  const auto row =
      GENERATE(Row{50.0_ns, 1.0_MHz, 5.093, 5e-4}, Row{100.0_ns, 1.0_MHz, 5.093, 5e-4},
               Row{50.0_ns, 2.0_MHz, 2.546, 6e-4}, Row{100.0_ns, 2.0_MHz, 2.546, 6e-4},
               Row{50.0_ns, 20.0_MHz, 0.0811, 6e-5}, Row{100.0_ns, 20.0_MHz, 0.0405, 6e-5});
  const InverterSource source = source_of(800.0_V, kind, row.ramp);
  CAPTURE(row.ramp.value(), row.frequency.value());
  CHECK_THAT(harmonic_envelope(source, row.frequency).value(),
             within(row.envelope_V, row.half_a_digit));
  CHECK_THAT(harmonic_envelope(carrier_waveform(source, 0.0, 0.0), row.frequency).value(),
             within(row.envelope_V, row.half_a_digit));
}

TEST_CASE("the envelope in decibel over a microvolt", "[derived]") {
  const auto source = source_of(800.0_V, ModulationKind::sine_triangle, 50.0_ns);
  const double peak_V = harmonic_envelope(source, 1.0_MHz).value();
  CHECK_THAT(decibel_microvolt(peak_V), within(134.1, 0.05));
  CHECK_THAT(decibel_microvolt(peak_V / std::numbers::sqrt2), within(131.1, 0.05));
}

TEST_CASE("a ringing that repeats has the line of its transform", "[derived]") {
  // 100 V, 2 MHz, Q 10, 10 kHz: time constant 1.592 us, 7.955e-5 V/Hz, 1.591 V.
  const Waveform wave{
      .period = 100.0_us, .corners = {}, .oscillations = {{0.0_s, 100.0_V, 2.0_MHz, 10.0}}};
  CHECK_THAT(std::abs(harmonic_V(wave, 200)), near(1.591, 1e-3));
  CHECK_THAT(std::abs(harmonic_V(wave, 200)) / 2.0 * 100e-6, near(7.955e-5, 1e-3));
  CHECK_THAT(harmonic_envelope(wave, 2.0_MHz), near(1.591_V, 1e-3));
  const double crest_V = value_at(wave, 0.125_us).value();
  const double later_V = value_at(wave, 0.125_us + 3.0_us).value();
  CHECK_THAT(3.0 / std::log(crest_V / later_V), near(1.592, 1e-3));
}

TEST_CASE("the least bearing voltage ratio that reaches a threshold of ten volts", "[derived]") {
  struct Row {
    Voltage link;
    double ratio;
  };
  const auto row = GENERATE(Row{400.0_V, 0.050}, Row{800.0_V, 0.025});
  const ShaftNode node{.winding_rotor = row.ratio * 1.0_nF, .total = 1.0_nF};
  CHECK_THAT(crest_voltage(node, row.link), near(10.0_V, 1e-12));
}

// Plain air gap with the Carter factor, textbook form (from memory): 0.15 m bore and stack, 0.8 mm,
// 1.2: 0.65 nF.
TEST_CASE("rotor to frame across the air gap", "[formula]") {
  CHECK_THAT(air_gap_capacitance(150.0_mm, 150.0_mm, 0.8_mm, 1.2), within(0.65_nF, 0.005_nF));
}

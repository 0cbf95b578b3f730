#include "ohmdrag/voltage/inverter_source.hpp"

#include <cmath>
#include <numbers>

#include "ohmdrag/voltage/discharge.hpp"
#include "ohmdrag/voltage/harmonic_envelope.hpp"
#include "support/near.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {

constexpr double pi = std::numbers::pi;

InverterSource plain_source(ModulationKind kind = ModulationKind::sine_triangle) {
  return {.dc_link = 800.0_V,
          .carrier = 10.0_kHz,
          .rise = 50.0_ns,
          .fall = 80.0_ns,
          .modulation = kind,
          .ringing = {}};
}

/// Mean over the fundamental of the carrier component of one period after another.
double carrier_share(ModulationKind kind, double modulation) {
  InverterSource source = plain_source(kind);
  source.dc_link = 1.0_V;
  source.rise = source.fall = 0.001_ns;
  constexpr int parts = 720;
  std::complex<double> sum;
  for (int i = 0; i < parts; ++i)
    sum += harmonic_V(carrier_waveform(source, modulation, 2.0 * pi * (i + 0.5) / parts), 1) /
           double(parts);
  return std::abs(sum);
}

}  // namespace

TEST_CASE("at standstill the legs make one trapezoid of the whole link", "[derived]") {
  InverterSource source = plain_source();
  source.fall = source.rise;
  const Waveform wave = carrier_waveform(source, 0.0, 0.4);
  REQUIRE(wave.corners.size() == 4);
  CHECK_THAT(value_at(wave, 0.0_s), near(-400.0_V, 1e-12));
  CHECK_THAT(value_at(wave, 50.0_us), near(400.0_V, 1e-12));
  const Trapezoid same{.amplitude = 800.0_V, .width = 50.0_us, .rise = 50.0_ns, .period = 100.0_us};
  const auto c = harmonics_V(wave, 4001);
  for (const int n : {1, 3, 101, 399, 4001})
    CHECK_THAT(std::abs(c[std::size_t(n)]), near(harmonic_amplitude(same, n).value(), 1e-8));
}

TEST_CASE("ramps follow the direction of their leg", "[derived]") {
  const InverterSource source = plain_source();
  const Waveform wave = carrier_waveform(source, 0.5, 0.3);
  REQUIRE(wave.corners.size() == 12);
  for (std::size_t i = 0; i < 12; i += 2) {
    const Corner &from = wave.corners[i], &to = wave.corners[i + 1];
    const bool up = to.value > from.value;
    CHECK_THAT((to.at - from.at).value(), near((up ? source.rise : source.fall).value(), 1e-6));
    CHECK_THAT(std::abs((to.value - from.value).value()), near(800.0 / 3.0, 1e-9));
  }
}

TEST_CASE("edges that overlap add up", "[derived]") {
  InverterSource source = plain_source();
  source.rise = source.fall = 4.0_us;
  // Between two legs 1.2 us apart the ramps run together.
  const double modulation = 0.05;
  const Waveform wave = carrier_waveform(source, modulation, pi / 2.0);
  const auto stairs = carrier_staircase(source.dc_link, source.carrier, modulation, pi / 2.0);
  for (const double at_us : {20.0, 24.0, 24.7, 25.3, 26.9, 30.0, 73.9, 75.5, 90.0}) {
    const double at_s = at_us * 1e-6;
    double level_V = stairs.start.value();
    for (const CarrierEdge& edge : stairs.edges())
      level_V += edge.step.value() * std::clamp((at_s - edge.time.value()) / 4e-6 + 0.5, 0.0, 1.0);
    CHECK_THAT(value_at(wave, Time::from_value(at_s)).value(), within(level_V, 1e-9));
  }
}

TEST_CASE("the mean of a carrier period is that of its references", "[derived]") {
  const auto kind = GENERATE(ModulationKind::sine_triangle, ModulationKind::space_vector);
  const double modulation = GENERATE(0.0, 0.5, 0.97, 1.0, 1.1, 1.1547);
  CAPTURE(int(kind), modulation);
  for (int i = 0; i < 100; ++i) {
    const double angle_rad = 0.0628 * i;
    double mean = 0.0;
    for (const double m : leg_references(kind, modulation, angle_rad)) mean += m / 6.0;
    const Waveform wave = carrier_waveform(plain_source(kind), modulation, angle_rad);
    CHECK_THAT(harmonic_V(wave, 0).real(), within(800.0 * mean, 1e-6));
  }
}

TEST_CASE("the carrier component is that of the closed form", "[derived]") {
  using enum ModulationKind;
  for (const double modulation : {0.0, 0.3, 0.5, 0.8, 1.0})
    CHECK_THAT(carrier_share(sine_triangle, modulation),
               within(carrier_component(1.0_V, modulation).value(), 2e-5));
  for (const double modulation : {0.0, 0.3, 0.5, 0.8, 1.0, 1.1547})
    CHECK_THAT(carrier_share(space_vector, modulation),
               within(carrier_component(1.0_V, modulation, space_vector).value(), 2e-5));
}

TEST_CASE("the common mode has the root mean square of its levels", "[derived]") {
  const auto kind = GENERATE(ModulationKind::sine_triangle, ModulationKind::space_vector);
  const double modulation = GENERATE(0.0, 0.4, 1.0, 1.1547);
  InverterSource source = plain_source(kind);
  source.rise = source.fall = 0.01_ns;
  CAPTURE(int(kind), modulation);
  double square = 0.0;
  constexpr int parts = 720;
  for (int i = 0; i < parts; ++i)
    square +=
        mean_square(carrier_waveform(source, modulation, 2.0 * pi * (i + 0.5) / parts)).value() /
        parts;
  CHECK_THAT(std::sqrt(square), near(common_mode_rms(800.0_V, modulation).value(), 1e-4));
}

TEST_CASE("a whole fundamental holds its carrier periods one after another", "[derived]") {
  const auto kind = GENERATE(ModulationKind::sine_triangle, ModulationKind::space_vector);
  const double modulation = GENERATE(0.0, 0.6, 1.0, 1.1, 1.1547);
  CAPTURE(int(kind), modulation);
  const InverterSource source = plain_source(kind);
  const FundamentalWaveform whole = fundamental_waveform(source, modulation, 250.0_Hz);
  REQUIRE(whole.carrier_periods == 40);
  CHECK_THAT(whole.ratio, near(40.0, 1e-12));
  for (int k = 0; k < 40; ++k) {
    const Waveform part = carrier_waveform(source, modulation, 2.0 * pi * (k + 0.5) / 40.0);
    for (const double share : {0.01, 0.2, 0.26, 0.5, 0.74, 0.9, 0.99})
      CHECK_THAT(value_at(whole.waveform, (k + share) * 100.0_us).value(),
                 within(value_at(part, share * 100.0_us).value(), 1e-6));
  }
}

TEST_CASE("the third harmonic of the fundamental comes from the modulation alone", "[derived]") {
  // Sine-triangle: the mean of three sines has none. Space vectors: the shift that is added to all
  // legs, -(highest + lowest)/2 M, has 3 sqrt(3)/(8 pi) M of the third harmonic, in units of
  // V_dc/2.
  InverterSource source = plain_source();
  source.fall = source.rise;
  const auto third_V = [&](ModulationKind kind) {
    source.modulation = kind;
    return std::abs(harmonic_V(fundamental_waveform(source, 0.9, 50.0_Hz).waveform, 3));
  };
  CHECK_THAT(third_V(ModulationKind::sine_triangle), within(0.0, 0.5));
  CHECK_THAT(third_V(ModulationKind::space_vector),
             near(400.0 * 0.9 * 3.0 * std::sqrt(3.0) / (8.0 * pi), 0.01));
}

TEST_CASE("a carrier that is no multiple is moved to the nearest and says so", "[derived]") {
  const FundamentalWaveform moved = fundamental_waveform(plain_source(), 0.5, 1.04_kHz);
  CHECK(moved.carrier_periods == 10);
  CHECK_THAT(moved.ratio, near(10.0 / 1.04, 1e-12));
  CHECK_THAT(moved.carrier, near(10.4_kHz, 1e-12));
  CHECK_THROWS_AS(fundamental_waveform(plain_source(), 0.5, 1.8_kHz), std::invalid_argument);
  CHECK_THROWS_AS(fundamental_waveform(plain_source(), 0.5, 0.0_Hz), std::invalid_argument);
}

TEST_CASE("every edge rings from the end of its ramp, with its sign", "[derived]") {
  InverterSource source = plain_source();
  source.ringing = Ringing{.frequency = 2.0_MHz, .share_of_step = 0.3, .quality = 8.0};
  const Waveform wave = carrier_waveform(source, 0.5, 0.3);
  REQUIRE(wave.oscillations.size() == 6);
  for (const Oscillation& oscillation : wave.oscillations) {
    CHECK_THAT(std::abs(oscillation.amplitude.value()), near(80.0, 1e-9));
    const double slope =
        (value_at(wave, oscillation.from) - value_at(wave, oscillation.from - 1.0_ns)).value();
    CHECK(slope * oscillation.amplitude.value() > 0.0);
  }
}

TEST_CASE("blocked gates make no edges at standstill", "[derived]") {
  const EdgeRates all = edge_rates(10.0_kHz, 0.0, 50.0_ns);
  CHECK_THAT(rates_at_standstill(all, 0.0).three_legs, near(20.0_kHz, 1e-12));
  CHECK_THAT(rates_at_standstill(all, 0.75).total(), near(5.0_kHz, 1e-12));
  CHECK(rates_at_standstill(all, 1.0).total() == 0.0_Hz);
  CHECK_THROWS_AS(rates_at_standstill(all, 1.01), std::invalid_argument);
  CHECK_THROWS_AS(rates_at_standstill(all, NAN), std::invalid_argument);
}

TEST_CASE("no harmonic exceeds the envelope, wherever the edges move", "[derived]") {
  const auto kind = GENERATE(ModulationKind::sine_triangle, ModulationKind::space_vector);
  const bool rings = GENERATE(false, true);
  InverterSource source = plain_source(kind);
  source.carrier = 12.0_kHz;
  if (rings) source.ringing = Ringing{.frequency = 2.0_MHz, .share_of_step = 0.4, .quality = 10.0};
  CAPTURE(int(kind), rings);
  constexpr int up_to = 8333;  // 100 MHz
  for (const double modulation : {0.0, 0.01, 0.3, 0.8, 0.81, 1.0, 1.1547})
    for (const double angle_rad : {0.0, 0.1, 0.5236, 1.7}) {
      const Waveform wave = carrier_waveform(source, modulation, angle_rad);
      const auto c = harmonics_V(wave, up_to);
      double worst_own = 0.0, worst = 0.0;
      for (int n = 1; n <= up_to; ++n) {
        const Frequency f = double(n) * source.carrier;
        const double size_V = std::abs(c[std::size_t(n)]);
        worst_own = std::max(worst_own, size_V / harmonic_envelope(wave, f).value());
        worst = std::max(worst, size_V / harmonic_envelope(source, f).value());
      }
      CAPTURE(modulation, angle_rad);
      CHECK(worst_own < 1.0 + 1e-9);
      CHECK(worst < 1.0 + 1e-9);
      CHECK(worst > 0.3);  // it is a bound that is met, not a wide one
    }
}

TEST_CASE("a duty moved by one per cent stays under the envelope of the first", "[derived]") {
  const Ringing ringing{.frequency = 2.0_MHz, .share_of_step = 0.4, .quality = 10.0};
  const auto trapezoid = [&](Time width) {
    Waveform wave{.period = 100.0_us,
                  .corners = {{10.0_us, 0.0_V},
                              {10.05_us, 800.0_V},
                              {10.0_us + width, 800.0_V},
                              {10.05_us + width, 0.0_V}},
                  .oscillations = {}};
    for (const auto& [at, sign] : {std::pair{10.05_us, 1.0}, std::pair{10.05_us + width, -1.0}})
      wave.oscillations.push_back({at, sign * 320.0_V, ringing.frequency, ringing.quality});
    return wave;
  };
  const Waveform first = trapezoid(50.0_us);
  for (const double share : {0.99, 0.997, 1.0, 1.003, 1.01}) {
    const auto c = harmonics_V(trapezoid(share * 50.0_us), 10'000);
    for (int n = 1; n <= 10'000; ++n) {
      const double limit_V = harmonic_envelope(first, double(n) * 10.0_kHz).value();
      if (std::abs(c[std::size_t(n)]) > limit_V * (1.0 + 1e-9)) FAIL("harmonic " << n);
    }
  }
}

TEST_CASE("the envelope of a source is that of a trapezoid where the legs switch together",
          "[derived]") {
  InverterSource source = plain_source();
  source.fall = source.rise;
  const Trapezoid same{.amplitude = 800.0_V, .width = 50.0_us, .rise = 50.0_ns, .period = 100.0_us};
  for (const Frequency& f : {10.0_kHz, 1.0_MHz, 6.0_MHz, 20.0_MHz})
    CHECK_THAT(harmonic_envelope(source, f), near(harmonic_envelope(same, f), 1e-12));
}

TEST_CASE("an undefined inverter is refused", "[derived]") {
  InverterSource source = plain_source();
  CHECK_THROWS_AS(carrier_waveform(source, 1.2, 0.0), std::invalid_argument);
  source.rise = 101.0_us;
  CHECK_THROWS_AS(carrier_waveform(source, 0.5, 0.0), std::invalid_argument);
  source = plain_source();
  source.fall = 0.0_s;
  CHECK_THROWS_AS(carrier_waveform(source, 0.5, 0.0), std::invalid_argument);
  source = plain_source();
  source.ringing = Ringing{.frequency = 2.0_MHz, .share_of_step = -0.1, .quality = 8.0};
  CHECK_THROWS_AS(carrier_waveform(source, 0.5, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(harmonic_envelope(plain_source(), 0.0_Hz), std::invalid_argument);
}

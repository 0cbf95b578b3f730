#include "ohmdrag/voltage/measured_waveform.hpp"

#include <cmath>
#include <numbers>
#include <random>

#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/inverter_source.hpp"
#include "support/near.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {

InverterSource slow_source() {
  return {.dc_link = 600.0_V,
          .carrier = 10.0_kHz,
          .rise = 400.0_ns,
          .fall = 600.0_ns,
          .modulation = ModulationKind::sine_triangle,
          .ringing = {}};
}

/// What an oscilloscope would have stored, from any place of the period on.
std::vector<VoltageSample> samples_of(const Waveform& wave, Time from, Time interval, int count) {
  std::vector<VoltageSample> out;
  for (int i = 0; i < count; ++i) {
    const Time at = from + double(i) * interval;
    out.push_back({at, value_at(wave, at)});
  }
  return out;
}

}  // namespace

TEST_CASE("a sampled waveform has the harmonics of the first below half the sampling rate",
          "[derived]") {
  const Waveform wave = carrier_waveform(slow_source(), 0.5, 0.3);
  const auto samples = samples_of(wave, 0.0_s, 20.0_ns, 5001);
  const MeasuredWaveform measured = measured_waveform(samples);
  CHECK_THAT(measured.waveform.period, near(100.0_us, 1e-9));
  CHECK_THAT(measured.silent_above, near(25.0_MHz, 1e-6));
  CHECK_THAT(measured.range, near(600.0_V, 1e-9));
  CHECK(std::abs(measured.mismatch.value()) < 1e-6);
  const auto c = harmonics_V(wave, 300), d = harmonics_V(measured.waveform, 300);
  for (std::size_t n = 0; n <= 300; ++n) CHECK(std::abs(c[n] - d[n]) < 0.02);
  CHECK(cautions_of(measured).empty());
}

TEST_CASE("a measured waveform holds its mean square in its harmonics", "[derived]") {
  InverterSource source = slow_source();
  source.ringing = Ringing{.frequency = 1.0_MHz, .share_of_step = 0.3, .quality = 8.0};
  const auto samples = samples_of(carrier_waveform(source, 0.5, 0.3), 33.0_us, 50.0_ns, 2001);
  const Waveform wave = measured_waveform(samples).waveform;
  const auto c = harmonics_V(wave, 8000);
  double held = std::norm(c[0]);
  for (std::size_t n = 1; n < c.size(); ++n) held += 0.5 * std::norm(c[n]);
  const double whole = mean_square(wave).value();
  CHECK(held <= whole * (1.0 + 1e-10));
  CHECK(held + mean_square_above(wave, 8000).value() >= whole * (1.0 - 1e-10));
  CHECK_THAT(held, near(whole, 1e-5));
}

TEST_CASE("a stated period cuts the record", "[derived]") {
  const Waveform wave = carrier_waveform(slow_source(), 0.5, 0.3);
  const auto record = samples_of(wave, 7.0_us, 30.0_ns, 9000);
  const MeasuredWaveform measured = measured_waveform(record, 100.0_us);
  CHECK_THAT(measured.waveform.period, near(100.0_us, 1e-12));
  CHECK(measured.waveform.corners.size() == 3334);
  CHECK(std::abs(measured.mismatch.value()) < 1e-6);
  CHECK_THROWS_AS(measured_waveform(record, 280.0_us), std::invalid_argument);
}

TEST_CASE("a record that does not repeat says so", "[derived]") {
  const Waveform wave = carrier_waveform(slow_source(), 0.5, 0.3);
  const MeasuredWaveform measured = measured_waveform(samples_of(wave, 0.0_s, 20.0_ns, 2500));
  CHECK_THAT(std::abs(measured.mismatch.value()), near(600.0, 1e-6));
  REQUIRE_FALSE(cautions_of(measured).empty());
  CHECK(cautions_of(measured).front().find("does not close") != std::string::npos);
}

TEST_CASE("an edge of few samples is said to be unresolved", "[derived]") {
  const Waveform wave = carrier_waveform(slow_source(), 0.5, 0.3);
  const auto said = cautions_of(measured_waveform(samples_of(wave, 0.0_s, 0.2_us, 501)));
  REQUIRE(said.size() == 1);
  CHECK(said.front().find("sampling intervals") != std::string::npos);
}

TEST_CASE("edges are found with their sign, step and rise", "[derived]") {
  const InverterSource source = slow_source();
  const Time from = GENERATE(0.0_us, 25.1_us, 71.0_us);
  const bool rings = GENERATE(false, true);
  const double noise_V = GENERATE(0.0, 2.0);
  CAPTURE(from.value(), rings, noise_V);
  InverterSource made = source;
  if (rings) made.ringing = Ringing{.frequency = 0.8_MHz, .share_of_step = 0.08, .quality = 5.0};
  const Waveform wave = carrier_waveform(made, 0.5, 0.3);
  auto samples = samples_of(wave, from, 20.0_ns, 5001);
  std::mt19937 engine(7);
  for (VoltageSample& sample : samples)
    sample.value += noise_V * (double(engine() % 2001) / 1000.0 - 1.0) * 1.0_V;
  const auto found = edges_of(measured_waveform(samples).waveform);
  const Staircase stairs = carrier_staircase(source.dc_link, source.carrier, 0.5, 0.3);
  REQUIRE(found.size() == 6);
  Voltage sum;
  for (const FoundEdge& edge : found) {
    sum += edge.step;
    const double at_s = std::fmod((edge.middle + from).value(), 100e-6);
    const CarrierEdge* nearest = &stairs.edges().front();
    for (const CarrierEdge& made_edge : stairs.edges())
      if (std::abs(made_edge.time.value() - at_s) < std::abs(nearest->time.value() - at_s))
        nearest = &made_edge;
    CHECK_THAT(at_s, within(nearest->time.value(), 30e-9));
    CHECK_THAT(edge.step.value(), near(nearest->step.value(), rings ? 0.02 : 0.01));
    const double ramp_s = (edge.step > Voltage{} ? source.rise : source.fall).value();
    CHECK_THAT(edge.rise.value(), near(0.8 * ramp_s, 0.08));
    CHECK(edge.pieces >= 16);
  }
  CHECK(std::abs(sum.value()) < 6.0);
}

TEST_CASE("a level and a record of one edge have no pair of edges", "[derived]") {
  const Waveform level{.period = 1.0_us, .corners = {{0.0_us, 3.0_V}}, .oscillations = {}};
  CHECK(edges_of(level).empty());
  const Waveform still{
      .period = 1.0_us, .corners = {{0.0_us, 3.0_V}, {0.5_us, 3.0_V}}, .oscillations = {}};
  CHECK(edges_of(still).empty());
}

TEST_CASE("an unsound record is refused", "[derived]") {
  using Samples = std::vector<VoltageSample>;
  const auto refused = [](const Samples& samples) {
    CHECK_THROWS_AS(measured_waveform(samples), std::invalid_argument);
  };
  refused({});
  refused({{0.0_s, 1.0_V}, {1.0_s, 2.0_V}});
  refused({{0.0_s, 1.0_V}, {1.0_s, 2.0_V}, {1.0_s, 2.0_V}});
  refused({{0.0_s, 1.0_V}, {1.0_s, Voltage::from_value(NAN)}, {2.0_s, 2.0_V}, {3.0_s, 1.0_V}});
  refused({{0.0_s, 1.0_V}, {1.0_s, 2.0_V}, {2.0_s, 2.0_V}});
}

TEST_CASE("an air gap that makes no sense is refused", "[derived]") {
  CHECK_THROWS_AS(air_gap_capacitance(0.0_mm, 150.0_mm, 0.8_mm, 1.2), std::invalid_argument);
  CHECK_THROWS_AS(air_gap_capacitance(150.0_mm, 150.0_mm, 80.0_mm, 1.2), std::invalid_argument);
  CHECK_THROWS_AS(air_gap_capacitance(150.0_mm, 150.0_mm, 0.8_mm, 0.9), std::invalid_argument);
}

#include "ohmdrag/voltage/periodic_response.hpp"

#include <cmath>
#include <numbers>

#include "ohmdrag/voltage/edge_response.hpp"
#include "ohmdrag/voltage/inverter_source.hpp"
#include "ohmdrag/voltage/spectrum.hpp"
#include "support/near.hpp"
#include "voltage/path_march.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::node;
using ohmdrag::test::one_leg;
using ohmdrag::test::within;

namespace {

const Time rise = 50.0_ns;

/// One edge up, one down, half a period apart.
Waveform square(Time period) {
  const Time up = 0.25 * period, down = 0.75 * period;
  return {period,
          {{up, -0.5 * one_leg},
           {up + rise, 0.5 * one_leg},
           {down, 0.5 * one_leg},
           {down + rise, -0.5 * one_leg}},
          {}};
}

double slope_V_per_s(const Waveform& wave, double t_s) {
  constexpr double h_s = 1e-12;
  return (value_at(wave, Time::from_value(t_s + h_s)) - value_at(wave, Time::from_value(t_s - h_s)))
             .value() /
         (2.0 * h_s);
}

/// Sum of harmonics at a time.
double summed_V(const std::vector<std::complex<double>>& lines, double turns) {
  const std::complex<double> turn = std::polar(1.0, 2.0 * std::numbers::pi * turns);
  std::complex<double> phase = 1.0;
  double sum_V = 0.0;
  for (std::size_t n = 0; n < lines.size(); ++n) {
    if (n % 1024 == 0)
      phase = std::polar(1.0, 2.0 * std::numbers::pi * std::fmod(double(n) * turns, 1.0));
    sum_V += lines[n].real() * phase.real() - lines[n].imag() * phase.imag();
    phase *= turn;
  }
  return sum_V;
}

}  // namespace

TEST_CASE("three routes to the peak under a square wave", "[derived]") {
  struct Row {
    GroundingPath path;
    Time period;  ///< so long that each edge is forgotten before the next
  };
  const auto row = GENERATE(Row{{10.0_kohm, 0.0_nH}, 400.0_us}, Row{{50.0_ohm, 0.0_nH}, 20.0_us},
                            Row{{10.0_ohm, 0.0_nH}, 20.0_us}, Row{{1.0_ohm, 0.0_nH}, 20.0_us},
                            Row{{1.0_ohm, 20.0_nH}, 20.0_us}, Row{{1.0_ohm, 50.0_nH}, 20.0_us},
                            Row{{1.0_ohm, 100.0_nH}, 20.0_us},
                            Row{{1.0_ohm, 0.0_nH, {{10.0_kohm, 100.0_pF}}}, 400.0_us},
                            Row{{1.0_ohm, 50.0_nH, {}, 200.0_pF}, 20.0_us});
  CAPTURE(row.path.resistance.value(), row.path.inductance.value(), row.path.films.size());
  const Waveform wave = square(row.period);
  const PeriodicResponse response(node, row.path, wave);
  const auto largest = response.largest();

  // One edge in closed form.
  CHECK_THAT(largest.magnitude, near(edge_peak(node, row.path, one_leg, rise), 1e-3));

  // A march through the edge.
  test::PathMarch march(node, row.path);
  const double ratio = 100.0 / (1000.0 + row.path.across.value() * 1e12);
  const double dt_s = std::min(march.fine_step_s(), 1e-9);
  double peak_V = 0.0;
  for (long n = 0; double(n) * dt_s < 0.4e-6; ++n) {
    const double t_s = double(n) * dt_s;
    const bool in_ramp = t_s + 0.5 * dt_s < rise.value();
    march.step(t_s, dt_s,
               [&](double) { return in_ramp ? ratio * one_leg.value() / rise.value() : 0.0; });
    peak_V = std::max(peak_V, std::abs(march.v_V()));
  }
  CHECK_THAT(largest.magnitude.value(), near(peak_V, 1e-3));

  // Harmonics far above the fastest part: to 6 GHz, for 1 ohm on the bare node (1 ns) to 60 GHz.
  const bool fast = row.path.inductance == Inductance{} && row.period < 100.0_us;
  const auto lines =
      response.harmonics_V(static_cast<int>((fast ? 60e9 : 6e9) * row.period.value()));
  double highest_V = 0.0;
  for (int i = -20; i <= 20; ++i) {
    const double t_s = largest.at.value() + 1e-9 * i;
    const double v_V = summed_V(lines, t_s / row.period.value());
    highest_V = std::max(highest_V, std::abs(v_V));
    CHECK_THAT(v_V, within(response.at(Time::from_value(t_s)).value(), 1e-3 * peak_V));
  }
  CHECK_THAT(highest_V, near(largest.magnitude.value(), 1e-3));
}

TEST_CASE("edges that are not forgotten and oscillations agree with a march", "[derived]") {
  const auto path = GENERATE(GroundingPath{10.0_kohm, 0.0_nH}, GroundingPath{300.0_ohm, 2000.0_nH},
                             GroundingPath{2.0_kohm, 0.0_nH, {{20.0_kohm, 300.0_pF}}, 100.0_pF});
  const Time period = 20.0_us;
  Waveform wave{period,
                {{1.0_us, -400.0_V},
                 {1.1_us, -133.0_V},
                 {4.0_us, -133.0_V},
                 {4.05_us, 400.0_V},
                 {11.0_us, 400.0_V},
                 {11.2_us, -400.0_V}},
                {{1.1_us, 80.0_V, 2.0_MHz, 10.0},
                 {4.05_us, 160.0_V, 2.0_MHz, 10.0},
                 {11.2_us, -240.0_V, 1.0_MHz, 20.0}}};
  const PeriodicResponse response(node, path, wave);
  test::PathMarch march(node, path);
  const double ratio = 100.0 / (1000.0 + path.across.value() * 1e12);
  const double dt_s = 2.5e-9;  // a part of every corner's time
  const long steps = std::lround(period.value() / dt_s);
  // From any state the mean dies out: enough periods for the slowest mode.
  double largest_V = 0.0, worst_V = 0.0;
  constexpr int periods = 25;
  for (int n = 0; n < periods; ++n)
    for (long i = 0; i < steps; ++i) {
      const double t_s = double(i) * dt_s;
      // The slope jumps at corners, which lie between two steps: never across one.
      march.step(t_s, dt_s, [&](double at_s) {
        const double inside_s = std::clamp(at_s, t_s + 1e-3 * dt_s, t_s + 0.999 * dt_s);
        return ratio * slope_V_per_s(wave, inside_s);
      });
      if (n + 1 < periods) continue;
      largest_V = std::max(largest_V, std::abs(march.v_V()));
      worst_V = std::max(worst_V,
                         std::abs(march.v_V() - response.at(Time::from_value(t_s + dt_s)).value()));
    }
  CHECK(worst_V < 1e-3 * largest_V);
  CHECK_THAT(response.largest().magnitude.value(), near(largest_V, 1e-3));
  // The same voltage from harmonics, and periodic.
  const auto lines = response.harmonics_V(40000);
  for (double t_s = 0.3e-6; t_s < 20e-6; t_s += 0.77e-6) {
    CHECK_THAT(summed_V(lines, t_s / period.value()),
               within(response.at(Time::from_value(t_s)).value(), 2e-3 * largest_V));
    CHECK_THAT(response.at(Time::from_value(t_s) - period).value(),
               within(response.at(Time::from_value(t_s) + 3.0 * period).value(), 1e-6 * largest_V));
  }
}

TEST_CASE("a shaft without a path follows the common mode without its mean", "[derived]") {
  Waveform wave = square(20.0_us);
  wave.corners[2].at = 9.0_us;
  wave.corners[3].at = 9.0_us + rise;
  wave.oscillations = {{5.05_us, 50.0_V, 2.0_MHz, 10.0}, {0.0_us, 20.0_V, 1.0_MHz, 10.0}};
  const PeriodicResponse response(node, std::nullopt, wave);
  const double mean_V = harmonic_V(wave, 0).real();
  for (double t_s = 0.0; t_s < 20e-6; t_s += 0.31e-6)
    CHECK_THAT(response.at(Time::from_value(t_s)).value(),
               within(0.1 * (value_at(wave, Time::from_value(t_s)).value() - mean_V), 1e-9));
  // A resistance that hardly conducts does nearly the same.
  const PeriodicResponse slow(node, GroundingPath{Resistance::from_value(1e9), 0.0_nH}, wave);
  CHECK_THAT(slow.largest().magnitude, near(response.largest().magnitude, 1e-4));
}

TEST_CASE("a carrier period through a path, in time and by lines", "[derived]") {
  const InverterSource source{.dc_link = 800.0_V,
                              .carrier = 12.0_kHz,
                              .rise = 50.0_ns,
                              .fall = 80.0_ns,
                              .ringing = Ringing{2.0_MHz, 0.3, 10.0}};
  const Waveform wave = carrier_waveform(source, 0.8, 0.2);
  const GroundingPath path{1.0_ohm, 50.0_nH};
  const PeriodicResponse response(node, path, wave);
  // Parseval over a dense record.
  const auto lines = spectrum(node, path, wave, 100.0_MHz);
  CHECK(lines.size() == 8333);
  double by_lines = 0.0;
  for (const SpectrumLine& line : lines) {
    const double v_V = line.with_path.value();
    by_lines += 0.5 * v_V * v_V;
  }
  constexpr int samples = 400000;
  double in_time = 0.0;
  for (int i = 0; i < samples; ++i) {
    const double v_V = response.at(double(i) / samples * wave.period).value();
    in_time += v_V * v_V / samples;
  }
  CHECK_THAT(by_lines, near(in_time, 5e-3));
  CHECK_THAT(lines[99].with_path.value(), near(std::abs(response.harmonic_V(100)), 1e-9));
  CHECK_THAT(lines[99].without_path.value(), near(0.1 * std::abs(harmonic_V(wave, 100)), 1e-9));
  CHECK(response.harmonic_V(0) == 0.0);

  const auto bins = binned(lines);
  CHECK(bins.front().from == lines.front().frequency);
  CHECK(bins.size() <= 40);
  for (std::size_t i = 0; i < bins.size(); ++i) {
    Voltage without, with;
    for (const SpectrumLine& line : lines)
      if (line.frequency >= bins[i].from && line.frequency < bins[i].to) {
        without = std::max(without, line.without_path);
        with = std::max(with, line.with_path);
      }
    CHECK(bins[i].without_path == without);
    CHECK(bins[i].with_path == with);
    CHECK_THAT(bins[i].to, near(std::pow(10.0, 0.1) * bins[i].from, 1e-9));
  }
}

TEST_CASE("what has no periodic steady state is refused", "[derived]") {
  const Waveform wave = square(20.0_us);
  CHECK_THROWS_AS(PeriodicResponse(node, GroundingPath{0.0_ohm, 50.0_nH}, wave),
                  std::invalid_argument);
  CHECK_THROWS_AS(PeriodicResponse(node, GroundingPath{1.0_ohm, 50.0_nH}, Waveform{}),
                  std::invalid_argument);
  CHECK_THROWS_AS(spectrum(node, std::nullopt, wave, 1.0_kHz), std::invalid_argument);
  CHECK_THROWS_AS(binned({}, 0), std::invalid_argument);
  // A short holds the shaft.
  CHECK(PeriodicResponse(node, GroundingPath{0.0_ohm, 0.0_nH}, wave).largest().magnitude ==
        Voltage{});
}

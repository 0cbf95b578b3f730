#include "ohmdrag/voltage/waveform.hpp"

#include <chrono>
#include <cmath>
#include <numbers>

#include "ohmdrag/voltage/harmonic_envelope.hpp"
#include "ohmdrag/voltage/inverter_source.hpp"
#include "support/near.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {

using Complex = std::complex<double>;
constexpr double two_pi = 2.0 * std::numbers::pi;

const Ringing ringing{.frequency = 2.0_MHz, .share_of_step = 0.4, .quality = 10.0};

/// A line with corners at odd places and two oscillations, one of which outlasts the period.
Waveform odd_waveform() {
  return {.period = 83.0_us,
          .corners = {{3.0_us, -20.0_V}, {3.1_us, 250.0_V}, {40.0_us, 235.0_V}, {40.3_us, -60.0_V}},
          .oscillations = {{3.1_us, 90.0_V, 1.7_MHz, 12.0}, {82.0_us, -40.0_V, 0.05_MHz, 30.0}}};
}

/// Harmonic by the trapezoidal rule over value_at, in a fine grid.
Complex summed_harmonic_V(const Waveform& waveform, int n) {
  constexpr int parts = 400'000;
  Complex sum;
  for (int i = 0; i < parts; ++i) {
    const double share = (i + 0.5) / parts;
    sum +=
        value_at(waveform, share * waveform.period).value() * std::polar(1.0, -two_pi * n * share);
  }
  return (n == 0 ? 1.0 : 2.0) * sum / double(parts);
}

/// The mean square that the harmonics hold, up to n_max.
double held_by_harmonics_V2(const Waveform& waveform, int n_max) {
  const auto c = harmonics_V(waveform, n_max);
  double sum = std::norm(c[0]);
  for (std::size_t n = 1; n < c.size(); ++n) sum += 0.5 * std::norm(c[n]);
  return sum;
}

void check_parseval(const Waveform& waveform, int n_max) {
  const double whole = mean_square(waveform).value();
  const double held = held_by_harmonics_V2(waveform, n_max);
  const double missing = mean_square_above(waveform, n_max).value();
  CAPTURE(whole, held, missing);
  const double rounding = 1e-10 * whole;
  CHECK(held <= whole + rounding);
  CHECK(held + missing >= whole - rounding);
  CHECK(missing < 1e-3 * whole);
}

}  // namespace

TEST_CASE("harmonics are those of the waveform in time", "[derived]") {
  const Waveform waveform = odd_waveform();
  for (const int n : {0, 1, 2, 7, 50, 141, 400}) {
    CAPTURE(n);
    CHECK(std::abs(harmonic_V(waveform, n) - summed_harmonic_V(waveform, n)) < 2e-5);
  }
}

TEST_CASE("all harmonics at once are those one by one", "[derived]") {
  const InverterSource source{.dc_link = 800.0_V,
                              .carrier = 12.0_kHz,
                              .rise = 50.0_ns,
                              .fall = 70.0_ns,
                              .modulation = ModulationKind::space_vector,
                              .ringing = ringing};
  for (const Waveform& waveform : {odd_waveform(), carrier_waveform(source, 0.7, 0.3)}) {
    constexpr int up_to = 9000;
    const auto all = harmonics_V(waveform, up_to);
    REQUIRE(all.size() == up_to + 1);
    for (int n = 0; n <= up_to; n += n < 100 ? 1 : 37) {
      const double scale_V =
          n == 0 ? 1.0 : harmonic_envelope(waveform, double(n) / waveform.period).value();
      CAPTURE(n, scale_V);
      CHECK(std::abs(all[std::size_t(n)] - harmonic_V(waveform, n)) < 1e-10 * scale_V);
    }
  }
}

TEST_CASE("short pieces keep their digits in the first harmonics", "[derived]") {
  // Steps of 0.2 ns in 100 us: the sine of pi n h/T has to be taken from its series.
  const Waveform steps{
      .period = 100.0_us,
      .corners = {{0.0_us, 0.0_V}, {0.0002_us, 1.0_V}, {50.0_us, 1.0_V}, {50.0002_us, 0.0_V}},
      .oscillations = {}};
  const auto c = harmonics_V(steps, 30);
  for (int n = 1; n <= 30; ++n) {
    const double expected = n % 2 == 1 ? 2.0 / (std::numbers::pi * n) : 0.0;
    CHECK_THAT(std::abs(c[std::size_t(n)]), within(expected, 1e-9));
    CHECK(std::abs(c[std::size_t(n)] - harmonic_V(steps, n)) < 1e-13);
  }
}

TEST_CASE("a shift in time turns the harmonics and changes nothing else", "[derived]") {
  const Waveform here = odd_waveform();
  Waveform later = here;
  const Time shift = 0.7_us;
  for (Corner& corner : later.corners) corner.at += shift;
  later.oscillations[0].from += shift;
  later.oscillations[1].from += shift;
  const auto c = harmonics_V(here, 500), d = harmonics_V(later, 500);
  for (std::size_t n = 0; n < c.size(); ++n)
    CHECK(std::abs(d[n] - c[n] * std::polar(1.0, -two_pi * double(n) *
                                                     double(shift / here.period))) < 1e-9);
  CHECK_THAT(mean_square(later).value(), near(mean_square(here).value(), 1e-12));
  CHECK_THAT(value_at(later, 10.0_us + shift), near(value_at(here, 10.0_us), 1e-12));
}

TEST_CASE("an oscillation that outlasts the period is in its periodic steady state", "[derived]") {
  const Waveform wave{
      .period = 10.0_us, .corners = {}, .oscillations = {{2.0_us, 5.0_V, 0.33_MHz, 40.0}}};
  // The sum over all earlier periods, term by term.
  for (const double at_s : {0.0, 1e-6, 2e-6, 5.5e-6, 9.9e-6}) {
    double sum_V = 0.0;
    for (int k = -2000; k <= 0; ++k) {
      const double since_s = at_s - (2e-6 + k * 10e-6);
      if (since_s < 0.0) continue;
      const double w = two_pi * 0.33e6;
      sum_V += 5.0 * std::exp(-w / 80.0 * since_s) * std::sin(w * since_s);
    }
    CHECK_THAT(value_at(wave, Time::from_value(at_s)).value(), within(sum_V, 1e-9));
  }
  CHECK_THAT(value_at(wave, 43.7_us), near(value_at(wave, 3.7_us), 1e-9));
}

TEST_CASE("a single corner is a level", "[derived]") {
  const Waveform level{.period = 1.0_us, .corners = {{0.2_us, 7.0_V}}, .oscillations = {}};
  CHECK_THAT(value_at(level, 0.9_us), near(7.0_V, 1e-15));
  CHECK_THAT(mean_square(level).value(), near(49.0, 1e-15));
  CHECK_THAT(harmonics_V(level, 4)[0].real(), near(7.0, 1e-15));
  CHECK(std::abs(harmonics_V(level, 4)[3]) == 0.0);
}

TEST_CASE("the harmonics hold the mean square", "[derived]") {
  SECTION("trapezoid") {
    const Waveform trapezoid{
        .period = 100.0_us,
        .corners = {{10.0_us, 0.0_V}, {10.05_us, 800.0_V}, {60.0_us, 800.0_V}, {60.05_us, 0.0_V}},
        .oscillations = {}};
    check_parseval(trapezoid, 10'000);
  }
  SECTION("odd lines and oscillations") { check_parseval(odd_waveform(), 12'000); }
  SECTION("carrier period") {
    const auto kind = GENERATE(ModulationKind::sine_triangle, ModulationKind::space_vector);
    const bool rings = GENERATE(false, true);
    const double modulation = GENERATE(0.0, 0.02, 0.5, 1.0, 1.1547);
    CAPTURE(int(kind), rings, modulation);
    InverterSource source{.dc_link = 800.0_V,
                          .carrier = 12.0_kHz,
                          .rise = 50.0_ns,
                          .fall = 85.0_ns,
                          .modulation = kind,
                          .ringing = {}};
    if (rings) source.ringing = ringing;
    for (const double angle_rad : {0.0, 0.21, 0.5236, 1.9})
      check_parseval(carrier_waveform(source, modulation, angle_rad), 8333);
  }
  SECTION("fundamental period") {
    const InverterSource source{.dc_link = 400.0_V,
                                .carrier = 10.0_kHz,
                                .rise = 200.0_ns,
                                .fall = 150.0_ns,
                                .modulation = ModulationKind::space_vector,
                                .ringing = ringing};
    check_parseval(fundamental_waveform(source, 0.9, 0.5_kHz).waveform, 80'000);
  }
}

TEST_CASE("the mean square is that of the wave in time", "[derived]") {
  const Waveform waveform = odd_waveform();
  constexpr int parts = 400'000;
  double sum = 0.0;
  for (int i = 0; i < parts; ++i)
    sum += std::pow(value_at(waveform, (i + 0.5) / parts * waveform.period).value(), 2) / parts;
  CHECK_THAT(mean_square(waveform).value(), near(sum, 1e-6));
}

TEST_CASE("the harmonics of a carrier period to 100 MHz are quick", "[derived]") {
  const InverterSource source{.dc_link = 800.0_V,
                              .carrier = 12.0_kHz,
                              .rise = 50.0_ns,
                              .fall = 50.0_ns,
                              .modulation = ModulationKind::sine_triangle,
                              .ringing = ringing};
  const Waveform waveform = carrier_waveform(source, 0.8, 0.3);
  double best_s = 1.0, sum_V = 0.0;
  for (int i = 0; i < 20; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    sum_V += std::abs(harmonics_V(waveform, 8333).back());
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - begin;
    best_s = std::min(best_s, passed.count());
  }
  CHECK(sum_V > 0.0);
  // A quarter of a millisecond where it was measured; loaded machines and sanitizers count too.
  CAPTURE(best_s);
  CHECK(best_s < 0.05);
}

TEST_CASE("an undefined waveform is refused", "[derived]") {
  const auto refused = [](Waveform waveform) {
    CHECK_THROWS_AS(value_at(waveform, 0.0_s), std::invalid_argument);
    CHECK_THROWS_AS(harmonic_V(waveform, 1), std::invalid_argument);
    CHECK_THROWS_AS(harmonics_V(waveform, 5), std::invalid_argument);
    CHECK_THROWS_AS(mean_square(waveform), std::invalid_argument);
  };
  refused({.period = 0.0_s, .corners = {}, .oscillations = {}});
  refused({.period = 1.0_s, .corners = {{1.0_s, 1.0_V}}, .oscillations = {}});
  refused({.period = 1.0_s, .corners = {{0.5_s, 1.0_V}, {0.5_s, 2.0_V}}, .oscillations = {}});
  refused({.period = 1.0_s, .corners = {{0.5_s, Voltage::from_value(NAN)}}, .oscillations = {}});
  refused({.period = 1.0_s, .corners = {}, .oscillations = {{0.0_s, 1.0_V, 1.0_Hz, 0.5}}});
  refused({.period = 1.0_s, .corners = {}, .oscillations = {{1.0_s, 1.0_V, 1.0_Hz, 5.0}}});
  CHECK_THROWS_AS(harmonic_V(odd_waveform(), -1), std::invalid_argument);
  CHECK_THROWS_AS(harmonics_V(odd_waveform(), -1), std::invalid_argument);
  CHECK_THROWS_AS(mean_square_above(odd_waveform(), 100), std::invalid_argument);
}

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/near.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {

/// Means over one carrier period of the staircase, from its edges alone.
struct Means {
  double mean_V = 0.0;
  double square_V2 = 0.0;
  double zero_vector = 0.0;  ///< share of time at +-V_dc/2
  double first_cos_V = 0.0;  ///< carrier component
  double first_sin_V = 0.0;
};

Means means_of(double modulation, double angle_rad) {
  const Staircase stairs = carrier_staircase(1.0_V, 1.0_Hz, modulation, angle_rad);
  const auto edges = stairs.edges();
  Means out;
  // All legs start low but one that its reference holds high for the whole period.
  double highest = -1.0, lowest = 1.0;
  for (int leg = 0; leg < 3; ++leg) {
    const double reference = std::cos(angle_rad - 2.0 * std::numbers::pi * leg / 3.0);
    highest = std::max(highest, reference);
    lowest = std::min(lowest, reference);
  }
  double level_V = stairs.count == 4 && highest > -lowest ? -0.5 + 1.0 / 3.0 : -0.5;
  double before_s = 0.0;
  const auto add = [&](double until_s) {
    const double length_s = until_s - before_s;
    const double w = 2.0 * std::numbers::pi;
    out.mean_V += level_V * length_s;
    out.square_V2 += level_V * level_V * length_s;
    if (std::abs(level_V) > 0.4) out.zero_vector += length_s;
    out.first_cos_V += 2.0 * level_V * (std::sin(w * until_s) - std::sin(w * before_s)) / w;
    out.first_sin_V -= 2.0 * level_V * (std::cos(w * until_s) - std::cos(w * before_s)) / w;
    before_s = until_s;
  };
  for (const CarrierEdge& edge : edges) {
    add(edge.time.value());
    level_V += edge.step.value();
  }
  add(1.0);
  return out;
}

}  // namespace

TEST_CASE("the staircase has the means of the closed forms", "[derived]") {
  const double modulation = GENERATE(0.0, 0.1, 0.5, 0.8, 0.99);
  CAPTURE(modulation);
  constexpr int parts = 720;
  double zero = 0.0, square = 0.0, carrier = 0.0;
  for (int i = 0; i < parts; ++i) {
    const Means means = means_of(modulation, (i + 0.5) / parts * 2.0 * std::numbers::pi);
    CHECK(std::abs(means.mean_V) < 1e-12);
    CHECK(std::abs(means.first_sin_V) < 1e-12);
    zero += means.zero_vector / parts;
    square += means.square_V2 / parts;
    carrier -= means.first_cos_V / parts;
  }
  CHECK_THAT(zero, within(zero_vector_share(modulation), 1e-5));
  CHECK_THAT(std::sqrt(square), within(common_mode_rms(1.0_V, modulation).value(), 1e-5));
  // Natural against regular sampling: equal for a carrier much faster than the fundamental.
  CHECK_THAT(carrier, within(carrier_component(1.0_V, modulation).value(), 1e-5));
}

TEST_CASE("the zero-vector share holds above sine-triangle", "[derived]") {
  const double modulation = linear_modulation_limit();
  constexpr int parts = 720;
  double zero = 0.0;
  for (int i = 0; i < parts; ++i)
    zero += means_of(modulation, (i + 0.25) / parts * 2.0 * std::numbers::pi).zero_vector / parts;
  CHECK_THAT(zero, within(zero_vector_share(modulation), 1e-4));
}

TEST_CASE("the edges of a carrier period are in order and sum to zero", "[derived]") {
  const double modulation = GENERATE(0.0, 0.3, 1.0, 1.1, 1.1547);
  for (int i = 0; i < 90; ++i) {
    const Staircase stairs = carrier_staircase(800.0_V, 10.0_kHz, modulation, 0.07 * i);
    Voltage sum;
    Time before;
    for (const CarrierEdge& edge : stairs.edges()) {
      CHECK(edge.time >= before);
      CHECK(edge.time <= 100.0_us);
      before = edge.time;
      sum += edge.step;
    }
    CHECK(std::abs(sum.value()) < 1e-9);
    CHECK(stairs.count % 2 == 0);
  }
}

TEST_CASE("a quickly repeated ringing has its peak near its own frequency", "[derived]") {
  const Ringing ringing{.frequency = 2.0_MHz, .share_of_step = 0.5, .quality = 20.0};
  const auto at_resonance = ringing_spectrum(ringing, 200.0_V, 2.0_MHz);
  CHECK_THAT(at_resonance.value(), near(100.0 * 20.0 / (2.0 * std::numbers::pi * 2e6), 1e-3));
  CHECK(ringing_spectrum(ringing, 200.0_V, 1.0_MHz) < at_resonance);
  CHECK(ringing_spectrum(ringing, 200.0_V, 4.0_MHz) < at_resonance);
}

TEST_CASE("an undefined source is refused", "[derived]") {
  CHECK_THROWS_AS(common_mode_levels(0.0_V), std::invalid_argument);
  CHECK_THROWS_AS(edge_step(800.0_V, 4), std::invalid_argument);
  CHECK_THROWS_AS(zero_vector_share(1.2), std::invalid_argument);
  CHECK_THROWS_AS(zero_vector_share(NAN), std::invalid_argument);
  CHECK_THROWS_AS(carrier_component(800.0_V, 1.1), std::invalid_argument);
  CHECK_THROWS_AS(carrier_staircase(800.0_V, 0.0_Hz, 0.5, 0.0), std::invalid_argument);
  const Trapezoid no_rise{.amplitude = 1.0_V, .width = 50.0_us, .rise = 0.0_ns, .period = 100.0_us};
  CHECK_THROWS_AS(harmonic_envelope(no_rise, 1.0_MHz), std::invalid_argument);
  const Trapezoid wave{.amplitude = 1.0_V, .width = 50.0_us, .rise = 50.0_ns, .period = 100.0_us};
  CHECK_THROWS_AS(harmonic_amplitude(wave, 0), std::invalid_argument);
  CHECK_THROWS_AS(ringing_spectrum({2.0_MHz, 0.3, 0.5}, 1.0_V, 1.0_MHz), std::invalid_argument);
}

#include "ohmdrag/voltage/path.hpp"

#include <cmath>

#include "ohmdrag/voltage/bands.hpp"
#include "ohmdrag/voltage/path_geometry.hpp"
#include "support/near.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::node;
using ohmdrag::test::within;

TEST_CASE("bearing voltage ratio of a node", "[derived]") {
  const ShaftNode built = shaft_node(100.0_pF, 700.0_pF, 200.0_pF);
  CHECK_THAT(bearing_voltage_ratio(built), near(0.1, 1e-12));
  // Two bearings of 100 pF made ten times smaller raise the shaft voltage by 22 %.
  CHECK_THAT(bearing_voltage_ratio(shaft_node(100.0_pF, 700.0_pF, 20.0_pF)), near(0.122, 1e-3));
  CHECK_THROWS_AS(bearing_voltage_ratio({1.0_nF, 0.9_nF}), std::invalid_argument);
  CHECK_THROWS_AS(shaft_node(0.0_pF, 1.0_nF, 1.0_nF), std::invalid_argument);
}

TEST_CASE("impedance, phase and corner of a path", "[derived]") {
  const GroundingPath path{1.0_ohm, 50.0_nH};
  CHECK_THAT(impedance_magnitude(path, 10.0_kHz), near(1.0_ohm, 1e-4));
  CHECK_THAT(impedance_magnitude(path, 1.0_MHz), near(1.048_ohm, 1e-3));
  CHECK_THAT(impedance_magnitude(path, 10.0_MHz), near(3.297_ohm, 1e-3));
  CHECK_THAT(impedance_phase_deg(path, 1.0_MHz), within(17.4, 0.05));
  CHECK_THAT(*inductive_corner(path), near(3.18_MHz, 2e-3));
  CHECK_THAT(*path_resonance(node, path), near(22.5_MHz, 1e-3));
  CHECK_FALSE(inductive_corner({1.0_ohm, 0.0_nH}));
  CHECK_FALSE(path_resonance(node, {1.0_ohm, 0.0_nH}));
}

TEST_CASE("attenuation tends to one and to nothing with the path", "[derived]") {
  CHECK(attenuation(node, std::nullopt, 1.0_MHz) == std::complex<double>{1.0});
  CHECK_THAT(
      std::abs(attenuation(node, GroundingPath{Resistance::from_value(1e12), 50.0_nH}, 10.0_kHz)),
      near(1.0, 1e-9));
  CHECK(std::abs(attenuation(node, GroundingPath{0.0_ohm, 0.0_nH}, 1.0_MHz)) == 0.0);
  CHECK(std::abs(attenuation(node, GroundingPath{1.0_ohm, 50.0_nH}, 0.0_Hz)) == 0.0);
}

TEST_CASE("a path amplifies above its resonance over root two", "[derived]") {
  const GroundingPath path{1.0_ohm, 50.0_nH};
  const Frequency border = *path_resonance(node, path) / std::sqrt(2.0);
  CHECK_THAT(border, near(15.9_MHz, 2e-3));
  CHECK(attenuation_dB(node, path, 0.99 * border) < 0.0);
  CHECK_THAT(std::abs(attenuation(node, path, border)), near(1.0, 1e-12));
  CHECK(attenuation_dB(node, path, 1.01 * border) > 0.0);
  // 17 dB at 22.6 MHz, about 20 lg(Z0/R).
  CHECK_THAT(attenuation_dB(node, path, 22.6_MHz), within(17.0, 0.2));
}

TEST_CASE("the weakest frequency of a band is found by a scan too", "[derived]") {
  const auto path = GENERATE(GroundingPath{1.0_ohm, 50.0_nH}, GroundingPath{10.0_ohm, 50.0_nH},
                             GroundingPath{0.1_ohm, 2000.0_nH}, GroundingPath{20.0_ohm, 0.0_nH});
  const auto band = GENERATE(Band{"low", 0.15_MHz, 0.3_MHz}, Band{"medium", 0.53_MHz, 1.8_MHz},
                             Band{"wide", 0.1_MHz, 100.0_MHz});
  double smallest_dB = INFINITY;
  constexpr int parts = 20000;
  for (int i = 0; i <= parts; ++i) {
    const Frequency f = band.from * std::pow(double(band.to / band.from), double(i) / parts);
    smallest_dB = std::min(smallest_dB, -attenuation_dB(node, path, f));
  }
  const BandReduction found = band_reduction(node, path, band);
  CHECK(found.reduction_dB <= smallest_dB + 1e-9);
  CHECK_THAT(found.reduction_dB, within(smallest_dB, 1e-3));
  CHECK(found.weakest_at >= band.from);
  CHECK(found.weakest_at <= band.to);
}

TEST_CASE("no path reduces nothing", "[derived]") {
  const BandReduction found = band_reduction(node, std::nullopt, {"any", 0.1_MHz, 1.0_MHz});
  CHECK(found.reduction_dB == 0.0);
  CHECK_FALSE(std::signbit(found.reduction_dB));
  CHECK_THROWS_AS(band_reduction(node, std::nullopt, {"turned", 1.0_MHz, 0.1_MHz}),
                  std::invalid_argument);
}

TEST_CASE("inductance of straps and wires", "[derived]") {
  // Arithmetic of the cited formulas.
  CHECK_THAT(wire_inductance(100.0_mm, 1.0_mm), near(99.8_nH, 1e-3));
  CHECK_THAT(wire_inductance(30.0_mm, 1.0_mm), near(22.7_nH, 2e-3));
  CHECK_THAT(strap_inductance(30.0_mm, 10.0_mm, 0.5_mm), near(13.9_nH, 2e-3));
  CHECK(strap_inductance(30.0_mm, 5.0_mm, 0.5_mm) > strap_inductance(30.0_mm, 10.0_mm, 0.5_mm));
  CHECK_THROWS_AS(strap_inductance(10.0_mm, 10.0_mm, 0.5_mm), std::invalid_argument);
  CHECK_THROWS_AS(wire_inductance(1.0_mm, 1.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(wire_pair_inductance(1.0_m, 1.0_mm, 1.0_mm), std::invalid_argument);
}

TEST_CASE("an undefined path is refused", "[derived]") {
  CHECK_THROWS_AS(impedance_ohm({-1.0_ohm, 0.0_nH}, 1.0_MHz), std::invalid_argument);
  CHECK_THROWS_AS(impedance_ohm({1.0_ohm, 0.0_nH}, Frequency::from_value(-1.0)),
                  std::invalid_argument);
  CHECK_THROWS_AS(attenuation(node, GroundingPath{1.0_ohm, Inductance::from_value(NAN)}, 1.0_MHz),
                  std::invalid_argument);
}

// Impedance sweeps: reading of network files, fixtures taken off, pairs of contacts, fits.
//
// Touchstone File Format Specification, Rev 1.1, EIA/IBIS Open Forum, section 3.4, examples 1 and
// 2, read as quoted in a public repository; examples 10 and 11 of version 2.1, the same network
// normalised and in ohms, as quoted in the tests of another.
// Fixtures: the forms of an instrument maker's handbook of impedance measurement, section 4.3 and
// appendices B and C (formulas read).
// GUM: JCGM 100:2008, 4.3.7, uniform distribution (formula from memory).
#include <cmath>
#include <complex>
#include <iterator>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/rig/fixture.hpp"
#include "ohmdrag/rig/one_port.hpp"
#include "ohmdrag/rig/series_pair.hpp"
#include "ohmdrag/rig/sweep_fit.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using ohmdrag::test::near;
using Complex = std::complex<double>;

namespace {

constexpr double megahertz = 2.0 * std::numbers::pi * 1e6;

/// A sweep of (R + j w L) beside C, computed by circuit theory here.
rig::Sweep resonant_sweep(double r_ohm, double l_H, double c_F) {
  rig::Sweep sweep;
  for (int i = 0; i <= 60; ++i) {
    const double f_Hz = 1e4 * std::pow(10.0, i / 12.0), w = 2.0 * std::numbers::pi * f_Hz;
    const Complex branch{r_ohm, w * l_H};
    sweep.push_back({Frequency::from_value(f_Hz), branch / (1.0 + Complex{0.0, w * c_F} * branch)});
  }
  return sweep;
}

}  // namespace

TEST_CASE("a network file of one port at 2 MHz", "[printed]") {
  // Example 1: magnitude 0.894 at -12.136 degrees; the same in decibels, -0.97, to half a digit.
  const auto linear = rig::one_port_of(
      "!1-port S-parameter file, single frequency point\n# MHz S MA R 50\n!freq magS11 angS11\n"
      "2.000 0.894 -12.136\n");
  REQUIRE(linear.sweep.size() == 1);
  CHECK(linear.sweep.front().frequency.value() == Approx(2e6));
  CHECK(linear.reference->value() == 50.0);
  const Complex z = linear.sweep.front().ohm, reflection = (z - 50.0) / (z + 50.0);
  CHECK(std::abs(reflection) == Approx(0.894).epsilon(1e-12));
  CHECK(std::arg(reflection) * 180.0 / std::numbers::pi == Approx(-12.136).epsilon(1e-12));
  const Complex in_dB =
      rig::one_port_of("# MHz S DB R 50\n2.000 -0.97 -12.136\n").sweep.front().ohm;
  CHECK(std::abs((in_dB - 50.0) / (in_dB + 50.0)) == Approx(0.894).margin(0.0006));
}

TEST_CASE("an impedance normalised to 75 ohm", "[printed]") {
  // Example 2 (10 of version 2.1) and, in ohms, example 11 of version 2.1.
  const auto port = rig::one_port_of(
      "# MHz Z MA R 75\n100 0.99 -4\n200 0.80 -22\n300 0.707 -45\n400 0.40 -62\n500 0.01 -89\n");
  struct Row {
    double f_MHz, ohm, deg;
  };
  constexpr Row printed[] = {
      {100, 74.25, -4}, {200, 60, -22}, {300, 53.025, -45}, {400, 30, -62}, {500, 0.75, -89}};
  REQUIRE(port.sweep.size() == std::size(printed));
  CHECK_FALSE(port.reference);
  for (std::size_t i = 0; i < std::size(printed); ++i) {
    CHECK(port.sweep[i].frequency.value() == Approx(printed[i].f_MHz * 1e6));
    CHECK(std::abs(port.sweep[i].ohm) == Approx(printed[i].ohm).epsilon(1e-12));
    CHECK(std::arg(port.sweep[i].ohm) * 180.0 / std::numbers::pi == Approx(printed[i].deg));
  }
}

TEST_CASE("a short and an open are taken off as the handbook does", "[formula]") {
  // Z = 1 ohm with 30 nH at 1 MHz behind 50 mohm with 20 nH; 5 pF across.
  const Complex measured{1.0500118, 0.3141290}, closed{0.05, 0.1256637}, open_S{0.0, 3.14159e-5};
  const Complex out = rig::without_fixture(measured, {closed, closed + 1.0 / open_S, {}, {}},
                                           rig::FixtureForm::series_first);
  CHECK(out.real() == Approx(1.0).margin(1e-6));
  CHECK(out.imag() == Approx(megahertz * 30e-9).margin(1e-6));
  CHECK(out.imag() == Approx(0.1884956).margin(1e-6));
}

TEST_CASE("the other two forms of the handbook give a specimen back", "[formula]") {
  const Complex specimen{1.0, 0.1885}, arm{0.05, 0.13}, leg{0.0, -3.2e4};
  const Complex open = arm + leg, closed = arm + arm * leg / (arm + leg);
  const auto seen = [&](Complex z) { return arm + (arm + z) * leg / (arm + z + leg); };
  const Complex symmetric =
      rig::without_fixture(seen(specimen), {closed, open, {}, {}}, rig::FixtureForm::symmetric);
  CHECK(std::abs(symmetric - specimen) < 1e-9);
  const Complex load = rig::without_fixture(seen(specimen), {closed, open, seen(50.0), 50.0},
                                            rig::FixtureForm::series_first);
  CHECK(std::abs(load - specimen) < 1e-9);
}

TEST_CASE("one contact of a pair whose share lies anywhere from 0.3 to 0.7", "[formula]") {
  // GUM 4.3.7: half width over sqrt(3), 0.1155 of the pair, 23.1 % of the mean of both.
  CHECK(rig::single_of_pair_uncertainty() == Approx(2.0 * 0.1155).margin(1e-4));
  CHECK(rig::parallel_over_mean(0.65) == Approx(0.455).margin(5e-4));
}

TEST_CASE("three contacts out of 2.1, 1.7 and 2.0 ohm", "[derived]") {
  const auto single = rig::resolved_pairs(2.1, 1.7, 2.0);
  CHECK(single[0].real() == Approx(1.2));
  CHECK(single[1].real() == Approx(0.9));
  CHECK(single[2].real() == Approx(0.8));
}

TEST_CASE("elements of 1 ohm, 50 nH and 20 pF out of a sweep through their resonance",
          "[derived]") {
  rig::Sweep sweep = resonant_sweep(1.0, 50e-9, 20e-12);
  const auto at_2_MHz = rig::impedance_at(resonant_sweep(1.0, 50e-9, 20e-12), 2.0_MHz);
  CHECK(std::abs(*at_2_MHz) == Approx(1.1812).epsilon(2e-3));
  CHECK(std::arg(*at_2_MHz) * 180.0 / std::numbers::pi == Approx(32.13).margin(0.3));
  const auto fit = rig::fit_sweep(sweep);
  CHECK(fit.model == rig::SweepModel::inductance_beside_capacitance);
  REQUIRE(fit.resistance);
  REQUIRE(fit.inductance);
  REQUIRE(fit.capacitance);
  CHECK_THAT(fit.resistance->value, near(1.0_ohm, 1e-6));
  CHECK_THAT(fit.inductance->value, near(50.0_nH, 1e-6));
  CHECK_THAT(fit.capacitance->value, near(20.0_pF, 1e-6));
}

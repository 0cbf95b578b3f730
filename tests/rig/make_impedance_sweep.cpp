// Writes the invented logs of cases/rig/impedance-sweep.toml: two rings in series over a short
// shaft that turns, from 1 kHz to 30 MHz and back, and the fixture without them.
//
//   build/tests/rig/make_impedance_sweep rings > cases/rig/impedance-sweep.csv
//   build/tests/rig/make_impedance_sweep short > cases/rig/impedance-sweep-short.csv
//   build/tests/rig/make_impedance_sweep open > cases/rig/impedance-sweep-open.csv
//
// Truth of the rings: 11 ohm with a film of 31 ohm and 1.2 nF, and 7 ohm with 21 ohm and 1.8 nF; 45
// nH each. Their mean is a contact of 9 ohm with a film of 26 ohm and 1.44 nF. Leads: 60 mohm and
// 25 nH, then 8 pF across the clips. Noise of 0.4 % of the impedance in either part.

#include <fmt/format.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <random>
#include <string_view>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/path.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Complex = std::complex<double>;

namespace {

constexpr double from_Hz = 1e3, to_Hz = 3e7, noise = 0.004;
constexpr int points = 61;

Complex rings_ohm(Frequency frequency) {
  const voltage::GroundingPath first{11.0_ohm, 45.0_nH, {{31.0_ohm, 1.2_nF}}},
      second{7.0_ohm, 45.0_nH, {{21.0_ohm, 1.8_nF}}};
  return voltage::impedance_ohm(first, frequency) + voltage::impedance_ohm(second, frequency);
}

Complex seen_ohm(std::string_view what, Frequency frequency) {
  const Complex leads = voltage::impedance_ohm({0.06_ohm, 25.0_nH}, frequency);
  if (what == "short") return leads;
  const Complex across_S{0.0, 2.0 * std::numbers::pi * frequency.value() * 8e-12};
  if (what == "open") return leads + 1.0 / across_S;
  return leads + 1.0 / (1.0 / rings_ohm(frequency) + across_S);
}

}  // namespace

int main(int count, char** words) {
  const std::string_view what = count > 1 ? words[1] : "rings";
  const bool back = what == "rings";
  std::mt19937_64 random(what == "rings" ? 71 : what == "short" ? 72 : 73);
  std::normal_distribution<double> error(0.0, noise);
  fmt::print("# Invented: nobody measured this. Written by tests/rig/make_impedance_sweep.cpp.\n");
  fmt::print("f_kHz,Z_ohm,phase_deg\n");
  for (int i = 0; i < (back ? 2 * points : points); ++i) {
    const int step = i < points ? i : 2 * points - 1 - i;
    const double f_Hz = from_Hz * std::pow(to_Hz / from_Hz, double(step) / (points - 1));
    const double re = error(random), im = error(random);
    const Complex ohm = seen_ohm(what, Frequency::from_value(f_Hz)) * Complex{1.0 + re, im};
    fmt::print("{:.5g},{:.5g},{:.3f}\n", f_Hz / 1e3, std::abs(ohm),
               std::arg(ohm) * 180.0 / std::numbers::pi);
  }
}

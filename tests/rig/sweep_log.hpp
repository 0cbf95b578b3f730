#pragma once

#include <cmath>
#include <random>

#include "ohmdrag/rig/impedance_sweep.hpp"
#include "ohmdrag/voltage/path.hpp"

/// Sweeps of contacts as their circuit says, with noise on top. All invented.
namespace ohmdrag::test {

struct SweepTruth {
  voltage::GroundingPath path;
  double from_Hz = 1e3, to_Hz = 1e7;
  int points = 41;       ///< evenly over the logarithm
  double noise = 0.005;  ///< standard deviation of either part over |Z|
  double drift = 0.0;    ///< of ln|Z|, over the whole log
  bool back = false;     ///< down again over the same frequencies
};

inline rig::Sweep sweep_log(const SweepTruth& truth, unsigned seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> noise(0.0, 1.0);
  rig::Sweep log;
  const int all = truth.back ? 2 * truth.points : truth.points;
  for (int i = 0; i < all; ++i) {
    const int step = i < truth.points ? i : all - 1 - i;
    const Frequency frequency = Frequency::from_value(
        truth.from_Hz * std::pow(truth.to_Hz / truth.from_Hz, double(step) / (truth.points - 1)));
    std::complex<double> ohm = voltage::impedance_ohm(truth.path, frequency);
    const double re = noise(random), im = noise(random);
    ohm += truth.noise * std::abs(ohm) * std::complex<double>{re, im};
    ohm *= std::exp(truth.drift * i / (all - 1));
    log.push_back({frequency, ohm});
  }
  return log;
}

}  // namespace ohmdrag::test

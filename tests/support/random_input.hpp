#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <random>

/// Random inputs that are the same on every machine: the engine is, the standard distributions are
/// not.
namespace ohmdrag::test {

class RandomInput {
 public:
  explicit RandomInput(unsigned seed) : engine_(seed) {}

  /// In [low, high).
  double uniform(double low, double high) {
    return low + (high - low) * 0x1p-32 * static_cast<double>(engine_());
  }
  /// Evenly spread over the decades from low to high, both > 0.
  double over_decades(double low, double high) {
    return std::exp(uniform(std::log(low), std::log(high)));
  }

 private:
  std::mt19937 engine_;
};

/// No jump: a step of 1e-9 of the argument moves the value by less than 1e-6 of itself.
inline void check_continuous(const std::function<double(double)>& value, double at) {
  const double below = value(at * (1.0 - 0.5e-9));
  const double above = value(at * (1.0 + 0.5e-9));
  CAPTURE(at, below, above);
  CHECK(std::abs(above - below) <= 1e-6 * std::max(std::abs(above), std::abs(below)));
}

}  // namespace ohmdrag::test

#pragma once

#include <array>
#include <cmath>
#include <cstddef>

namespace ohmdrag::numerics {

/// A number that carries its slopes over N parameters through a calculation.
///
/// Accuracy  slopes to rounding, no step is chosen.
/// Source    derived: chain rule, forward through every operation; as a method (forward automatic
///           differentiation) R. E. Wengert, Comm. ACM 7 (1964) 463-464 (from memory).
template <std::size_t N>
struct Dual {
  double value = 0.0;
  std::array<double, N> slope{};

  Dual() = default;
  Dual(double constant) : value(constant) {}  // mixes with plain numbers in formulas

  /// Parameter j itself, whose slope over itself is one.
  static Dual parameter(double at, std::size_t j) {
    Dual result(at);
    result.slope[j] = 1.0;
    return result;
  }

  Dual& operator+=(const Dual& b) {
    value += b.value;
    for (std::size_t j = 0; j < N; ++j) slope[j] += b.slope[j];
    return *this;
  }
  Dual& operator-=(const Dual& b) {
    value -= b.value;
    for (std::size_t j = 0; j < N; ++j) slope[j] -= b.slope[j];
    return *this;
  }
  Dual& operator*=(const Dual& b) {
    for (std::size_t j = 0; j < N; ++j) slope[j] = slope[j] * b.value + value * b.slope[j];
    value *= b.value;
    return *this;
  }
  Dual& operator/=(const Dual& b) {
    value /= b.value;
    for (std::size_t j = 0; j < N; ++j) slope[j] = (slope[j] - value * b.slope[j]) / b.value;
    return *this;
  }

  friend Dual operator+(Dual a, const Dual& b) { return a += b; }
  friend Dual operator-(Dual a, const Dual& b) { return a -= b; }
  friend Dual operator*(Dual a, const Dual& b) { return a *= b; }
  friend Dual operator/(Dual a, const Dual& b) { return a /= b; }

  friend Dual exp(const Dual& a) {
    const double f = std::exp(a.value);
    return a.with(f, f);
  }
  friend Dual expm1(const Dual& a) { return a.with(std::expm1(a.value), std::exp(a.value)); }

 private:
  /// f(a), with f' at a.
  Dual with(double f, double derivative) const {
    Dual result(f);
    for (std::size_t j = 0; j < N; ++j) result.slope[j] = derivative * slope[j];
    return result;
  }
};

}  // namespace ohmdrag::numerics

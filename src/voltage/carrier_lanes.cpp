#include "voltage/carrier_lanes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>

#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::voltage {

namespace {

constexpr std::size_t lanes = CarrierPlaces::lanes;
constexpr std::size_t stretches = CarrierPlaces::stretches;

/// A mode that does not swing, or the real and imaginary part of one that does: the arithmetic
/// below is that of either.
struct Still {
  double real = 0.0;
};
struct Swinging {
  double real = 0.0, imag = 0.0;
};

[[gnu::always_inline]] inline Still operator+(Still a, Still b) { return {a.real + b.real}; }
[[gnu::always_inline]] inline Still operator*(Still a, Still b) { return {a.real * b.real}; }
[[gnu::always_inline]] inline Still operator*(Still a, double b) { return {a.real * b}; }
[[gnu::always_inline]] inline Still operator/(Still a, Still b) { return {a.real / b.real}; }
[[gnu::always_inline]] inline Swinging operator+(Swinging a, Swinging b) {
  return {a.real + b.real, a.imag + b.imag};
}
[[gnu::always_inline]] inline Swinging operator*(Swinging a, Swinging b) {
  return {a.real * b.real - a.imag * b.imag, a.real * b.imag + a.imag * b.real};
}
[[gnu::always_inline]] inline Swinging operator*(Swinging a, double b) {
  return {a.real * b, a.imag * b};
}
[[gnu::always_inline]] inline Swinging operator/(Swinging a, Swinging b) {
  const double square = b.real * b.real + b.imag * b.imag;
  return {(a.real * b.real + a.imag * b.imag) / square,
          (a.imag * b.real - a.real * b.imag) / square};
}

/// By stretch and carrier period.
template <class Value>
using Rows = std::array<std::array<Value, lanes>, stretches>;

/// What the modes add up to.
struct Sums {
  Rows<double> end_V{};  ///< right before the edge that ends a stretch
  /// Step response at the end of a stretch since the end of another  [struck][later].
  std::array<Rows<double>, stretches> response{};
};

/// Adds a mode over eight carrier periods; `grown` is exp(rate length) - 1.
///
/// The state before the first edge is the one that a period reproduces: z = z exp(p T) + what the
/// steps leave. As they sum to zero, they may count exp - 1 instead of exp, out of
/// exp(a + b) - 1 = A + B + A B: slow modes keep their digits.
template <class Value>
[[gnu::always_inline]] inline void add_mode(const CarrierPlaces::Block& block, Value weight,
                                            double ratio, const Rows<Value>& grown,
                                            bool after_discharge, Sums& sums) {
  std::array<Value, lanes> since{}, left{}, z;
  for (std::size_t i = stretches; i-- > 0;)
    for (std::size_t l = 0; l < lanes; ++l) {
      since[l] = grown[i][l] + since[l] + grown[i][l] * since[l];
      left[l] = left[l] + since[l] * block.step_V[i][l];
    }
  const Value on_shaft = weight * ratio;
  for (std::size_t l = 0; l < lanes; ++l) z[l] = on_shaft * left[l] / (since[l] * -1.0);
  Rows<Value> decay;
  for (std::size_t i = 0; i < stretches; ++i)
    for (std::size_t l = 0; l < lanes; ++l) {
      decay[i][l] = grown[i][l];
      decay[i][l].real += 1.0;
      z[l] = (z[l] + on_shaft * block.step_V[i][l]) * decay[i][l];
      sums.end_V[i][l] += z[l].real;
    }
  if (!after_discharge) return;
  for (std::size_t struck = 0; struck < stretches; ++struck) {
    std::array<Value, lanes> response;
    response.fill(weight);
    for (std::size_t i = 1; i < stretches; ++i) {
      const std::size_t later = (struck + i) % stretches;
      for (std::size_t l = 0; l < lanes; ++l) {
        response[l] = response[l] * decay[later][l];
        sums.response[struck][later][l] += response[l].real;
      }
    }
  }
}

/// exp(x) - 1 for x <= 0.
///
/// Accuracy  2e-15: a Taylor series to x^9 up to an eighth, beyond it the difference to 1 has lost
///           three bits at most.
[[gnu::always_inline]] inline double lane_exp_less_one(double x) {
  double series = 0.0;
#pragma GCC unroll 9
  for (int n = 9; n > 1; --n) series = (series + 1.0) * x / n;
  return x > -0.125 ? (series + 1.0) * x : numerics::LaneMath::exp(x) - 1.0;
}

[[gnu::always_inline]] inline void add_still(const CarrierPlaces::Block& block,
                                             const StepMode& mode, double ratio,
                                             bool after_discharge, Sums& sums) {
  Rows<Still> grown;
  for (std::size_t i = 0; i < stretches; ++i)
    for (std::size_t l = 0; l < lanes; ++l)
      grown[i][l].real = lane_exp_less_one(mode.rate_per_s.real() * block.length_s[i][l]);
  add_mode(block, Still{mode.weight.real()}, ratio, grown, after_discharge, sums);
}

/// Largest |v| before an edge that ends a hold.
[[gnu::always_inline]] inline double largest_V(const CarrierPlaces::Block& block, const Sums& sums,
                                               double at_once, bool after_discharge) {
  std::array<double, lanes> largest{};
  const auto raise = [&](std::size_t l, double v_V, double counts) {
    const double high_V = counts * std::abs(v_V);
    largest[l] = high_V > largest[l] ? high_V : largest[l];
  };
  for (std::size_t i = 0; i < stretches; ++i)
    for (std::size_t l = 0; l < lanes; ++l) raise(l, sums.end_V[i][l], block.is_hold[i][l]);
  // Discharge at the end of each hold in turn: what stands before the following edges. The sudden
  // loss of the node's voltage is one more step; what the path had stored goes on. Films straight
  // on the node take part in its steps and in its loss.
  if (after_discharge)
    for (std::size_t struck = 0; struck < stretches; ++struck)
      for (std::size_t i = 1; i < stretches; ++i) {
        const std::size_t later = (struck + i) % stretches;
        for (std::size_t l = 0; l < lanes; ++l)
          raise(l,
                sums.end_V[later][l] -
                    sums.end_V[struck][l] / at_once * sums.response[struck][later][l],
                block.is_hold[struck][l] * block.is_hold[later][l]);
      }
  double of_all = 0.0;
  for (const double one : largest) of_all = std::max(of_all, one);
  return of_all;
}

Rows<Swinging> grown_of(const CarrierPlaces::Block& block, const StepMode& mode) {
  Rows<Swinging> grown;
  for (std::size_t i = 0; i < stretches; ++i)
    for (std::size_t l = 0; l < lanes; ++l) {
      const std::complex<double> z = exp_less_one(mode.rate_per_s * block.length_s[i][l]);
      grown[i][l] = {z.real(), z.imag()};
    }
  return grown;
}

}  // namespace

double largest_held_V(const StepModes& modes, const CarrierPlaces& places, bool after_discharge,
                      numerics::LaneWidth width) {
  // What has died out within the shortest hold adds nothing to a double.
  constexpr double died_out = 50.0;
  const double shortest_s = rises_per_hold * places.carrier().rise.value();
  double at_once = 0.0;
  for (const StepMode& mode : modes.all()) at_once += mode.weight.real();
  double largest = 0.0;
  for (const CarrierPlaces::Block& block : places.blocks()) {
    Sums sums;
    for (const StepMode& mode : modes.all()) {
      if (-mode.rate_per_s.real() * shortest_s > died_out) continue;
      if (mode.rate_per_s.imag() == 0.0) {
        numerics::run_at_width(
            width, [&] { add_still(block, mode, modes.ratio(), after_discharge, sums); });
        continue;
      }
      const Rows<Swinging> grown = grown_of(block, mode);
      numerics::run_at_width(width, [&] {
        add_mode(block, Swinging{mode.weight.real(), mode.weight.imag()}, modes.ratio(), grown,
                 after_discharge, sums);
      });
    }
    numerics::run_at_width(width, [&] {
      largest = std::max(largest, largest_V(block, sums, at_once, after_discharge));
    });
  }
  return largest;
}

}  // namespace ohmdrag::voltage

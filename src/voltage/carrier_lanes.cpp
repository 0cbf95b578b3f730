#include "voltage/carrier_lanes.hpp"

#include <algorithm>
#include <array>
#include <complex>
#include <cstring>
#include <vector>

#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::voltage {

namespace {

constexpr std::size_t lanes = CarrierPlaces::lanes;
constexpr std::size_t stretches = CarrierPlaces::stretches;

/// One double of every period. Left to itself the compiler takes so short a loop apart.
using Eight [[gnu::vector_size(lanes * sizeof(double))]] = double;

// A mode that does not swing, or the real and imaginary part of one that does: the arithmetic below
// is that of either. Aligned by hand: what a vector asks for hangs on the instructions at hand.
struct alignas(sizeof(Eight)) Still {
  Eight real;
};
struct alignas(sizeof(Eight)) Swinging {
  Eight real, imag;
};

[[gnu::always_inline]] inline Still operator-(const Still& a) { return {-a.real}; }
[[gnu::always_inline]] inline Still operator+(const Still& a, const Still& b) {
  return {a.real + b.real};
}
[[gnu::always_inline]] inline Still operator*(const Still& a, const Still& b) {
  return {a.real * b.real};
}
[[gnu::always_inline]] inline Still operator/(const Still& a, const Still& b) {
  return {a.real / b.real};
}
[[gnu::always_inline]] inline Swinging operator-(const Swinging& a) { return {-a.real, -a.imag}; }
[[gnu::always_inline]] inline Swinging operator+(const Swinging& a, const Swinging& b) {
  return {a.real + b.real, a.imag + b.imag};
}
[[gnu::always_inline]] inline Swinging operator*(const Swinging& a, const Swinging& b) {
  return {a.real * b.real - a.imag * b.imag, a.real * b.imag + a.imag * b.real};
}
[[gnu::always_inline]] inline Swinging operator*(const Swinging& a, const Still& b) {
  return {a.real * b.real, a.imag * b.real};
}
[[gnu::always_inline]] inline Swinging operator/(const Swinging& a, const Swinging& b) {
  const Eight square = b.real * b.real + b.imag * b.imag;
  return {(a.real * b.real + a.imag * b.imag) / square,
          (a.imag * b.real - a.real * b.imag) / square};
}

[[gnu::always_inline]] inline Still all(double number) { return {Eight{} + number}; }

using Rows = std::array<Still, stretches>;

[[gnu::always_inline]] inline void read(const CarrierPlaces::Block::Rows& from, Rows& rows) {
  for (std::size_t i = 0; i < stretches; ++i) std::memcpy(&rows[i], from[i].data(), sizeof rows[i]);
}

/// A mode through eight carrier periods, by stretch.
template <class Value>
struct Course {
  using Values = std::array<Value, stretches>;

  std::complex<double> rate_per_s;
  Value weight, on_shaft;  ///< of a step of 1 V of the node, of the winding
  Values grown{};          ///< exp(rate length) - 1
  Values decay{};          ///< exp(rate length)
  Values step{};           ///< at the edge that begins the stretch
  Values end{};            ///< right before the edge that ends it
};

/// Follows a mode through the period that repeats, and adds up what stands at the ends.
///
/// The state before the first edge is the one that a period reproduces: z = z exp(p T) + what the
/// steps leave. As they sum to zero, they may count exp - 1 instead of exp, out of
/// exp(a + b) - 1 = A + B + A B: slow modes keep their digits.
template <class Value>
[[gnu::always_inline]] inline void follow(const Rows& step_V, Course<Value>& mode, Rows& end_V) {
  Value since{}, left{};
  for (std::size_t i = stretches; i-- > 0;) {
    since = mode.grown[i] + since + mode.grown[i] * since;
    left = left + since * step_V[i];
  }
  Value z = mode.on_shaft * left / (-since);
  for (std::size_t i = 0; i < stretches; ++i) {
    mode.decay[i] = mode.grown[i];
    mode.decay[i].real += 1.0;
    mode.step[i] = mode.on_shaft * step_V[i];
    z = (z + mode.step[i]) * mode.decay[i];
    mode.end[i] = z;
    end_V[i].real += z.real;
  }
}

/// Adds what stands of a mode before the edges that follow a discharge at the end of a stretch.
///
/// The sudden loss of the node's voltage is one more step; what the path had stored goes on. Films
/// straight on the node take part in its steps and in its loss.
template <class Value>
[[gnu::always_inline]] inline void add_struck(const Course<Value>& mode, std::size_t struck,
                                              const Still& loss_V, Rows& later_V) {
  Value z = mode.end[struck] + mode.weight * loss_V;
  for (std::size_t i = 1; i < stretches; ++i) {
    const std::size_t later = (struck + i) % stretches;
    z = (z + mode.step[later]) * mode.decay[later];
    later_V[later].real += z.real;
  }
}

/// The modes that last.
struct Courses {
  std::vector<Course<Still>> still;
  std::vector<Course<Swinging>> swinging;
};

/// The larger of it and of a magnitude that counts.
[[gnu::always_inline]] inline void raise(Still& largest, const Still& v_V, const Still& counts) {
  const Eight high_V = counts.real * (v_V.real < 0.0 ? -v_V.real : v_V.real);
  largest.real = high_V > largest.real ? high_V : largest.real;
}

/// Largest |v| before an edge that ends a hold.
[[gnu::always_inline]] inline double largest_V(const CarrierPlaces::Block& block, Courses& modes,
                                               double at_once, bool after_discharge) {
  Rows step_V, is_hold, end_V{};
  read(block.step_V, step_V);
  read(block.is_hold, is_hold);
  for (auto& mode : modes.still) follow(step_V, mode, end_V);
  for (auto& mode : modes.swinging) follow(step_V, mode, end_V);
  Still largest{};
  for (std::size_t i = 0; i < stretches; ++i) raise(largest, end_V[i], is_hold[i]);
  // Discharge at the end of each hold in turn.
  for (std::size_t struck = 0; after_discharge && struck < stretches; ++struck) {
    const Still loss_V{end_V[struck].real * (-1.0 / at_once)};
    Rows later_V{};
    for (const auto& mode : modes.still) add_struck(mode, struck, loss_V, later_V);
    for (const auto& mode : modes.swinging) add_struck(mode, struck, loss_V, later_V);
    Still later{};
    for (std::size_t i = 1; i < stretches; ++i) {
      const std::size_t at = (struck + i) % stretches;
      raise(later, later_V[at], is_hold[at]);
    }
    raise(largest, later, is_hold[struck]);
  }
  double of_all = 0.0;
  for (std::size_t l = 0; l < lanes; ++l) of_all = std::max(of_all, largest.real[l]);
  return of_all;
}

[[gnu::always_inline]] inline void grow(const CarrierPlaces::Block& block, Course<Still>& mode) {
  const double rate_per_s = mode.rate_per_s.real();
  for (std::size_t i = 0; i < stretches; ++i) {
    std::array<double, lanes> grown;
    for (std::size_t l = 0; l < lanes; ++l)
      grown[l] = numerics::LaneMath::expm1(rate_per_s * block.length_s[i][l]);
    std::memcpy(&mode.grown[i], grown.data(), sizeof grown);
  }
}

void grow(const CarrierPlaces::Block& block, Course<Swinging>& mode) {
  for (std::size_t i = 0; i < stretches; ++i)
    for (std::size_t l = 0; l < lanes; ++l) {
      const std::complex<double> z = exp_less_one(mode.rate_per_s * block.length_s[i][l]);
      mode.grown[i].real[l] = z.real();
      mode.grown[i].imag[l] = z.imag();
    }
}

/// Those that have not died out within the shortest hold: what has adds nothing to a double.
Courses lasting(const StepModes& modes, double shortest_s) {
  constexpr double died_out = 50.0;
  Courses lasting;
  for (const StepMode& mode : modes.all()) {
    const std::complex<double> rate = mode.rate_per_s, on_shaft = modes.ratio() * mode.weight;
    if (-rate.real() * shortest_s > died_out) continue;
    if (rate.imag() == 0.0)
      lasting.still.push_back({rate, all(mode.weight.real()), all(on_shaft.real())});
    else
      lasting.swinging.push_back({rate,
                                  {all(mode.weight.real()).real, all(mode.weight.imag()).real},
                                  {all(on_shaft.real()).real, all(on_shaft.imag()).real}});
  }
  return lasting;
}

}  // namespace

double largest_held_V(const StepModes& modes, const CarrierPlaces& places, bool after_discharge,
                      numerics::LaneWidth width) {
  Courses courses = lasting(modes, rises_per_hold * places.carrier().rise.value());
  double at_once = 0.0;
  for (const StepMode& mode : modes.all()) at_once += mode.weight.real();
  double largest = 0.0;
  for (const CarrierPlaces::Block& block : places.blocks()) {
    for (Course<Swinging>& mode : courses.swinging) grow(block, mode);
    numerics::run_at_width(width, [&] {
      for (Course<Still>& mode : courses.still) grow(block, mode);
      largest = std::max(largest, largest_V(block, courses, at_once, after_discharge));
    });
  }
  return largest;
}

}  // namespace ohmdrag::voltage

#include "bench/peak.hpp"

#include <algorithm>
#include <cstddef>
#include <ctime>

namespace ohmdrag::bench {

namespace {

template <std::size_t bytes>
using Vector [[gnu::vector_size(bytes)]] = double;
constexpr int rounds = 2'000'000;

// Six chains of either kind: enough for two instructions a cycle that take three, few enough for
// sixteen registers.
template <class V>
[[gnu::always_inline]] inline void chains(V& out) {
  V a0{}, a1{}, a2{}, a3{}, a4{}, a5{};
  V m0 = out, m1 = out, m2 = out, m3 = out, m4 = out, m5 = out;
  const V step = out * 1e-9;
  const V factor = out;
  for (int n = 0; n < rounds; ++n) {
    a0 += step;
    m0 *= factor;
    a1 += step;
    m1 *= factor;
    a2 += step;
    m2 *= factor;
    a3 += step;
    m3 *= factor;
    a4 += step;
    m4 *= factor;
    a5 += step;
    m5 *= factor;
  }
  out = ((a0 + a1) + (a2 + a3) + (a4 + a5)) + ((m0 + m1) + (m2 + m3) + (m4 + m5));
}

template <class V>
double flop_per_s(numerics::LaneWidth width, const V& one) {
  double best_s = 1e9;
  for (int tries = 0; tries < 7; ++tries) {
    V out = one;
    const std::clock_t start = std::clock();
    numerics::run_at_width(width, [&] { chains(out); });
    best_s = std::min(best_s, static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
    if (!(out[0] > 0.0)) return 0.0;
  }
  return 12.0 * rounds * (sizeof(V) / sizeof(double)) / best_s;
}

}  // namespace

double peak_flop_per_s(numerics::LaneWidth width) {
  if (width == numerics::LaneWidth::eight)
    return flop_per_s(width, Vector<64>{1, 1, 1, 1, 1, 1, 1, 1});
  if (width == numerics::LaneWidth::four) return flop_per_s(width, Vector<32>{1, 1, 1, 1});
  return flop_per_s(width, Vector<16>{1, 1});
}

}  // namespace ohmdrag::bench

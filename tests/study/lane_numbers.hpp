#pragma once

#include <cmath>
#include <cstring>
#include <vector>

namespace ohmdrag::test {

/// Between two ends, on no round number and in no order.
inline double mixed(double low, double high, std::size_t i, std::size_t seed) {
  const double golden = 0.6180339887498949 * double(i + 1) + 0.7548776662466927 * double(seed);
  return low + (high - low) * (golden - std::floor(golden));
}

template <class T>
bool same_bits(const std::vector<T>& a, const std::vector<T>& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(T)) == 0;
}

}  // namespace ohmdrag::test

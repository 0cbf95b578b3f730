#pragma once

#include <cstdint>

/// Bits that depend on every bit of what went in: randomness that is addressed by numbers instead
/// of drawn one after another, so that nobody's draw depends on who asked before.
namespace ohmdrag::numerics {

/// Step and finaliser of SplitMix64: G. L. Steele, D. Lea, C. H. Flood, Fast splittable
/// pseudorandom number generators, OOPSLA 2014 (from memory).
constexpr std::uint64_t mixed_bits(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15ULL;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ULL;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebULL;
  return x ^ (x >> 31);
}

constexpr std::uint64_t mixed_bits(std::uint64_t x, std::uint64_t y) {
  return mixed_bits(mixed_bits(x) ^ y);
}

/// In the open interval (0, 1).
constexpr double pseudo_random_share(std::uint64_t bits) {
  return (static_cast<double>(bits >> 12) + 0.5) * 0x1p-52;
}

}  // namespace ohmdrag::numerics

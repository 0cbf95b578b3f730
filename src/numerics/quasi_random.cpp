#include "ohmdrag/numerics/quasi_random.hpp"

#include <array>
#include <bit>
#include <boost/random/sobol.hpp>
#include <stdexcept>

#include "numerics/mixed_bits.hpp"

namespace ohmdrag::numerics {

namespace {

// Boost's engine walks the points in their order and all dimensions at once; we take its table of
// polynomials and initial numbers, which is open to other engines.
using Table = boost::random::default_sobol_table;
static_assert(QuasiRandom::most_dimensions <= Table::max_dimension);

constexpr std::size_t digits = 32;
/// Four digits at a time: 16 sums of direction numbers for each.
constexpr std::size_t sums_a_dimension = digits / 4 * 16;

/// Direction numbers of one dimension by the recurrence of Bratley and Fox, section 2: m of digit
/// j, which has j + 1 bits, then moved to the top of the word.
void write_directions(std::size_t dimension, std::uint32_t* direction) {
  if (dimension == 0) {
    for (std::size_t j = 0; j < digits; ++j) direction[j] = 1;
  } else {
    const auto polynomial = static_cast<std::uint32_t>(Table::polynomial(dimension - 1));
    const auto degree = static_cast<std::size_t>(std::bit_width(polynomial)) - 1;
    for (std::size_t j = 0; j < degree; ++j)
      direction[j] = static_cast<std::uint32_t>(Table::minit(dimension - 1, j));
    for (std::size_t j = degree; j < digits; ++j) {
      direction[j] = direction[j - degree];
      for (std::size_t lag = 1; lag <= degree; ++lag)
        if ((polynomial >> (degree - lag)) & 1U) direction[j] ^= direction[j - lag] << lag;
    }
  }
  for (std::size_t j = 0; j < digits; ++j) direction[j] <<= digits - 1 - j;
}

/// Digits in a tree: each node, which is all digits before, has a random bit that flips the next.
/// One hash serves all nodes of some levels; `from` counts the levels above.
template <std::size_t levels>
std::uint32_t flips_of(std::uint32_t bits, std::size_t from, std::uint64_t tree) {
  static_assert(levels <= 6, "a hash has 64 bits, for 2^levels - 1 nodes");
  // All digits before, with a one in front that tells how many they are.
  const std::uint64_t before =
      (std::uint64_t{1} << from) | (static_cast<std::uint64_t>(bits) >> (digits - from));
  const std::uint64_t coins = mixed_bits(tree, before);
  const std::uint32_t here = (bits >> (digits - from - levels)) & ((1U << levels) - 1);
  std::uint32_t flips = 0;
  for (std::size_t i = 0; i < levels; ++i) {
    const std::uint32_t node = (1U << i) | (here >> (levels - i));
    flips = (flips << 1) | static_cast<std::uint32_t>((coins >> node) & 1U);
  }
  return flips << (digits - from - levels);
}

std::uint32_t scrambled(std::uint32_t bits, std::uint64_t tree) {
  std::uint32_t flips = flips_of<2>(bits, 30, tree);
  for (std::size_t from = 0; from < 30; from += 6) flips |= flips_of<6>(bits, from, tree);
  return bits ^ flips;
}

}  // namespace

QuasiRandom::QuasiRandom(std::size_t dimensions) : dimensions_(dimensions) {
  if (dimensions == 0 || dimensions > most_dimensions)
    throw std::invalid_argument("quasi-random points: between 1 and 3667 dimensions are known");
  sums_.resize(dimensions * sums_a_dimension);
  for (std::size_t d = 0; d < dimensions; ++d) {
    std::array<std::uint32_t, digits> direction{};
    write_directions(d, direction.data());
    for (std::size_t i = 0; i < sums_a_dimension; ++i) {
      const std::size_t nibble = i / 16;
      for (std::size_t digit = 0; digit < 4; ++digit)
        if ((i >> digit) & 1U) sums_[d * sums_a_dimension + i] ^= direction[4 * nibble + digit];
    }
  }
}

QuasiRandom::QuasiRandom(std::size_t dimensions, std::uint64_t seed) : QuasiRandom(dimensions) {
  seed_ = seed;
}

double QuasiRandom::value(std::size_t dimension, std::uint64_t index) const {
  if (dimension >= dimensions_ || index >= most_points)
    throw std::out_of_range("quasi-random points: no such dimension or point");
  const std::uint32_t* sums = &sums_[dimension * sums_a_dimension];
  std::uint32_t bits = 0;
  for (auto gray = static_cast<std::uint32_t>(index ^ (index >> 1)); gray != 0; gray >>= 4) {
    bits ^= sums[gray & 15U];
    sums += 16;
  }
  if (seed_) bits = scrambled(bits, mixed_bits(*seed_, dimension));
  return (static_cast<double>(bits) + 0.5) * 0x1p-32;
}

}  // namespace ohmdrag::numerics

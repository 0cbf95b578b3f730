#pragma once

#include "study/duty_columns.hpp"

/// The oil of a block of stretches out of its columns. For sources with loops over lanes only.
namespace ohmdrag::study {

/// One quantity of the stretches of a block.
struct alignas(64) LaneRow {
  double of[numerics::lanes];
};

/// Where the stretches of a block stand in the pieces of the oil. They are consecutive, so one or
/// two pieces hold nearly every block.
struct OilBlock {
  LaneRow along, piece;
  double first, last;
};

/// False if the oil does not hold every temperature: what is placed then stands for nothing.
[[gnu::always_inline]] inline bool place_oil(const OilColumns::Pieces& oil, const double* oil_K,
                                             OilBlock& block) {
  constexpr double to_nearest = 0x1.8p52;  // adding it leaves the nearest integer
  const double from_K = oil.from_K, per_K = oil.per_K, last = oil.last;
  const auto piece_at = [last](double x) {
    const double any = ((x - 1.5) + to_nearest) - to_nearest;
    const double not_below = any > 0.0 ? any : 0.0;
    return not_below < last ? not_below : last;
  };
  double least_K = oil_K[0], most_K = oil_K[0];
#pragma omp simd reduction(min : least_K) reduction(max : most_K)
  for (std::size_t i = 0; i < numerics::lanes; ++i) {
    const double x = (oil_K[i] - from_K) * per_K;
    const double piece = piece_at(x);
    block.piece.of[i] = piece;
    block.along.of[i] = x - piece;
    least_K = oil_K[i] < least_K ? oil_K[i] : least_K;
    most_K = oil_K[i] > most_K ? oil_K[i] : most_K;
  }
  block.first = piece_at((least_K - from_K) * per_K);
  block.last = piece_at((most_K - from_K) * per_K);
  return OilColumns::holds(least_K) && OilColumns::holds(most_K);
}

/// A figure of the oil in every stretch of the block.
[[gnu::always_inline]] inline void look_up(const OilColumns::Pieces& oil, OilColumns::Figure figure,
                                           const OilBlock& block, LaneRow& found) {
  for (double piece = block.first; piece <= block.last; piece += 1.0) {
    const OilColumns::Cubic cubic = oil.cubic(figure, piece);
    if (piece == block.first) {
#pragma GCC ivdep
      for (std::size_t i = 0; i < numerics::lanes; ++i) {
        found.of[i] = cubic.at(block.along.of[i]);
      }
      continue;
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < numerics::lanes; ++i) {
      const double value = cubic.at(block.along.of[i]);
      const double so_far = found.of[i];
      found.of[i] = block.piece.of[i] == piece ? value : so_far;
    }
  }
}

}  // namespace ohmdrag::study

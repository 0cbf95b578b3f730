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

/// \pre  every temperature is held
[[gnu::always_inline]] inline void place_oil(const OilColumns::Pieces& oil, const double* oil_K,
                                             OilBlock& block) {
  constexpr double to_nearest = 0x1.8p52;  // adding it leaves the nearest integer
  const double from_K = oil.from_K, per_K = oil.per_K, last = oil.last;
  double least = last, most = 0.0;
#pragma omp simd reduction(min : least) reduction(max : most)
  for (std::size_t i = 0; i < numerics::lanes; ++i) {
    const double x = (oil_K[i] - from_K) * per_K;
    const double any = ((x - 1.5) + to_nearest) - to_nearest;
    const double not_below = any > 0.0 ? any : 0.0;
    const double piece = not_below < last ? not_below : last;
    block.piece.of[i] = piece;
    block.along.of[i] = x - piece;
    least = piece < least ? piece : least;
    most = piece > most ? piece : most;
  }
  block.first = least;
  block.last = most;
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

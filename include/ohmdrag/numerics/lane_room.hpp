#pragma once

#include <stdexcept>

#include "ohmdrag/numerics/lane_rows.hpp"

namespace ohmdrag::numerics {

/// Rows that stand in a LaneRoom, which has to outlive them.
class LaneSpan {
 public:
  LaneSpan() = default;
  LaneSpan(double* first, std::size_t rows) : first_(first), rows_(rows) {}

  double* operator[](std::size_t row) const { return first_ + row * lanes; }
  std::size_t rows() const { return rows_; }

 private:
  double* first_ = nullptr;
  std::size_t rows_ = 0;
};

/// Many short LaneRows in one piece of memory: to ask for each by itself takes longer than to fill
/// it. What was taken stays where it is when the room moves.
class LaneRoom {
 public:
  LaneRoom() = default;
  explicit LaneRoom(std::size_t rows) : all_(rows) {}
  LaneRoom(LaneRoom&&) = default;
  LaneRoom& operator=(LaneRoom&&) = default;

  /// The next rows, all zero.
  /// \throws std::length_error beyond the last one
  LaneSpan take(std::size_t rows) {
    if (rows > all_.rows() - taken_) throw std::length_error("lane room: fewer rows are left");
    taken_ += rows;
    return {all_[taken_ - rows], rows};
  }

 private:
  LaneRows all_;
  std::size_t taken_ = 0;
};

}  // namespace ohmdrag::numerics

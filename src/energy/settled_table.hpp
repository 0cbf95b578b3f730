#pragma once

#include <cstddef>
#include <deque>
#include <map>
#include <vector>

#include "energy/wide_block.hpp"

namespace ohmdrag::energy {

inline constexpr std::size_t oil_points = 6;  ///< Chebyshev points of a panel of oil temperature

/// Memory of tables, taken by one after the other: a thread's blocks need no new one.
class TableRoom {
 public:
  /// Rows that a table of this size may write to; what they hold is left over.
  numerics::LaneRows& rows(std::size_t count);
  /// All rows are free again.
  void clear() { used_ = 0; }

 private:
  std::deque<numerics::LaneRows> rows_;
  std::size_t used_ = 0;
};

/// What a block's shafts do at every speed of a duty and at any oil temperature: the torque of the
/// contacts that feel the oil, and the heat that the oil receives.
///
/// The oil's way is cut into panels, lane by lane: up to 42 K wide and ended where a modulus table
/// has a point, for there the force has a corner. A panel is filled when the first lane of the
/// block enters its own.
class SettledTable {
 public:
  SettledTable(component::WideShaft& shafts, const WideGrid& grid, const double* start_K,
               numerics::LaneWidth width, TableRoom& room);

  /// The rows looked up: contacts that feel the oil, then the heat into the oil.
  std::size_t functions() const { return felt_.size() + 1; }
  /// Contact of a row.
  const std::vector<std::size_t>& felt() const { return felt_; }
  /// Torque [Nm] of a contact that does not feel the oil.
  const double* constant_torque_Nm(std::size_t contact) const { return constant_Nm_[contact]; }
  bool feels(std::size_t contact) const { return feels_[contact]; }

  /// Middle and inverse half width of every lane's panel.
  const double* middle_K() const { return middle_K_[0]; }
  const double* per_half_width() const { return per_half_width_[0]; }
  /// Coefficients of (T - middle) per_half_width, rising: [function][node][power].
  const double* coefficients() const { return (*now_)[0]; }
  std::size_t nodes() const { return grid_.nodes; }

  /// Takes every lane to the panel that holds its temperature.
  void follow(const double* oil_K);

  WideEffort effort() const;  ///< in blocks

 private:
  struct Panel {
    numerics::LaneRows low_K{1}, high_K{1};
    numerics::LaneRows* coefficients = nullptr;
  };
  Panel& panel(int index);
  void fill(Panel& panel);
  void settle(std::size_t speed, std::size_t point);
  void take(std::size_t lane, int index);
  void centre(std::size_t lane, const Panel& panel);

  component::WideShaft& shafts_;
  TableRoom& room_;
  const WideGrid& grid_;
  numerics::LaneWidth width_;
  std::vector<std::size_t> felt_;
  std::vector<bool> feels_;
  numerics::LaneRows constant_Nm_;
  std::vector<std::vector<double>> corners_K_;    ///< by lane, sorted
  std::vector<component::WideDrySide> dry_;       ///< by solved speed
  std::vector<component::WideOilSide> oil_;       ///< by point of the panel
  std::vector<component::WideShaftState> state_;  ///< by point of the panel
  std::vector<numerics::LaneRows> start_;  ///< frictions of the three speeds before, by point
  numerics::LaneRows* by_power_;           ///< [solved speed][power] of the function in hand
  std::map<int, Panel> panels_;            ///< 0 holds the start, above it the warmer ones
  std::vector<int> index_;                 ///< by lane
  numerics::LaneRows middle_K_{1}, per_half_width_{1};
  numerics::LaneRows* now_;
  std::size_t solves_ = 0;
};

}  // namespace ohmdrag::energy

#pragma once

#include "ohmdrag/numerics/lane_width.hpp"
#include "study/strike_lanes.hpp"

namespace ohmdrag::study {

class StressGrid;

/// Places of a duty's speeds in a grid that rises.
ColumnPlaces column_places(const std::vector<double>& grid, const numerics::LaneRows& speed_rad_s,
                           numerics::LaneWidth width);

/// The look-up of a StressGrid for a block of stretches side by side.
///
/// Accuracy  that of StressGrid::at(), to rounding.
class StressLanes {
 public:
  StressLanes(const StressGrid& grid, Capacitance winding_rotor);

  /// Fills the stresses of a block. A point that was not solved before is solved now, for the
  /// stretches alone in which something can be struck.
  /// \param speed_rad_s   magnitudes
  /// \param among_speeds  their places among the speeds of the source
  void find(const numerics::LaneRows& speed_rad_s, const ColumnPlaces& among_speeds, std::size_t at,
            numerics::LaneWidth width, const NodeBlock& node, StressBlock& stresses) const;

 private:
  struct Table;

  const StressGrid* grid_;
  Capacitance winding_rotor_;
};

}  // namespace ohmdrag::study

#pragma once

#include "ohmdrag/numerics/lane_width.hpp"
#include "study/strike_lanes.hpp"

namespace ohmdrag::study {

class StressGrid;

/// The look-up of a StressGrid for a block of stretches side by side.
///
/// Accuracy  that of StressGrid::at(), to rounding.
class StressLanes {
 public:
  StressLanes(const StressGrid& grid, Capacitance winding_rotor);

  /// Fills the stresses of a block whose nodes are known. A point that was not solved before is
  /// solved now, for the stretches alone in which something can be struck.
  /// \param speed_rad_s  magnitudes
  void find(const double* speed_rad_s, numerics::LaneWidth width, StrikeBlock& block) const;

 private:
  struct Table;

  const StressGrid* grid_;
  Capacitance winding_rotor_;
};

}  // namespace ohmdrag::study

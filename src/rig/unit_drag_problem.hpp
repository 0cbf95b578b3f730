#pragma once

#include <span>
#include <vector>

#include "ohmdrag/rig/unit_drag_fit.hpp"

namespace ohmdrag::rig {

/// \throws std::invalid_argument, in words, if no fit should be made of the run.
void require_plausible(const UnitDragRun& run);

/// The drag of a unit over the parameters that are sought: independent coordinates of the prior
/// with the standard deviation 1, then the rest, then the calibration error where it is in doubt.
class UnitDragProblem {
 public:
  explicit UnitDragProblem(const UnitDragRun& run);

  std::size_t parameters() const { return modes_ + 1 + (calibrated() ? 1 : 0); }
  std::size_t modes() const { return modes_; }
  std::size_t rest() const { return modes_; }
  bool calibrated() const { return run_.calibration > 0.0; }
  AngularVelocity reference() const { return AngularVelocity::from_value(reference_rad_s_); }
  Temperature reference_oil() const { return Temperature::from_value(reference_K_); }
  /// Mean of the readings: the unit of the rest among the parameters.
  double typical_Nm() const { return typical_Nm_; }

  /// Levels, tilts and warmths in the order of the prior.
  double belief(std::span<const double> at, std::size_t index) const;
  /// Its slopes over the parameters.
  std::vector<double> belief_slopes(std::size_t index) const;
  /// Torque of a part at a reading; adds its slopes times `weight`.
  double part_Nm(std::span<const double> at, std::size_t part, std::size_t point, double weight,
                 std::span<double> slopes) const;
  double rest_Nm(std::span<const double> at) const { return at[rest()] * typical_Nm_; }
  /// Relative error of the readings.
  double calibration(std::span<const double> at) const {
    return calibrated() ? at[rest() + 1] * run_.calibration : 0.0;
  }
  /// Measured less modelled torque, and its slopes over the parameters.
  double misfit_Nm(std::span<const double> at, std::size_t point, std::span<double> slopes) const;

 private:
  const UnitDragRun& run_;
  std::size_t modes_ = 0;
  std::vector<double> root_;  ///< beliefs over the modes, row by row: root root^T is the covariance
  double reference_rad_s_ = 0.0;
  double reference_K_ = 0.0;
  double typical_Nm_ = 0.0;
};

}  // namespace ohmdrag::rig

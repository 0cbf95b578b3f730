#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "ohmdrag/duty/cycle.hpp"
#include "ohmdrag/duty/vehicle.hpp"

namespace ohmdrag::duty {

/// What the drive does in a step: a loss costs the battery differently in each.
enum class Drive {
  standstill,    ///< no way made
  traction,      ///< wheel force positive
  recuperation,  ///< moving, wheel force zero or negative: machine and pads brake
};

/// One stretch of a trace, in which everything turns at the mean speed.
struct Step {
  Time dt;
  Speed mean_speed;
  Length distance;  ///< mean_speed dt
  Acceleration acceleration;
  Force wheel_force;      ///< as wheel_force(); zero at standstill
  std::size_t phase = 0;  ///< index into Cycle::phases
  Drive drive = Drive::standstill;
};

/// The steps of a cycle, none longer than a second: longer stretches are cut, on their straight
/// line, into equal parts (the regulation evaluates once a second).
///
/// Limits    a 1 Hz trace of n samples gives n - 1 steps.
/// Source    UN GTR No. 15 (working text of October 2013), annex on calculations,
///           section 5, cycle energy demand; at standstill its force
///           formula leaves f0, which moves nothing and is returned as zero.
/// \throws std::invalid_argument if the cycle has fewer than two samples or as wheel_force() does.
std::vector<Step> steps(const Cycle& cycle, const VehicleData& vehicle);

/// Way and time spent at one mid speed in one state of the drive.
struct SpeedBin {
  Speed mean_speed;
  Drive drive = Drive::standstill;
  Time time;
  Length distance;
};

/// The distinct mid speeds of steps, rising, within a speed by drive. For laws without memory the
/// sum over the bins is the sum over the steps: nothing is rounded but speeds that differ by
/// rounding alone (1e-12 relative) share a bin. A phase is a subrange of the steps.
using SpeedHistogram = std::vector<SpeedBin>;
SpeedHistogram speed_histogram(std::span<const Step> steps);

/// Energy at the wheel by the sign of the force.
///
///     E+ = sum F_i d_i (F_i > 0),  E- = sum F_i d_i (F_i < 0)
///
/// Source    UN GTR No. 15 (working text of October 2013), annex on calculations,
///           section 5, cycle energy demand (E+).
struct WheelEnergy {
  Energy traction;  ///< >= 0
  Energy braking;   ///< <= 0
  Length distance;
};
WheelEnergy wheel_energy(std::span<const Step> steps);

}  // namespace ohmdrag::duty

#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"

/// Steady windows in a log of torque over time while the speed goes through its steps.
namespace ohmdrag::rig {

/// Samples of a rig; every column that is there has a value a sample.
struct TorqueLog {
  std::vector<Time> time;  ///< strictly rising
  std::vector<AngularVelocity> speed;
  std::vector<Torque> torque;
  std::vector<Temperature> temperature;  ///< empty: none was logged
};

/// A stretch of steady speed and settled torque.
struct SteadyWindow {
  Time middle;
  AngularVelocity speed;
  Torque torque;          ///< mean
  Torque standard_error;  ///< of the mean, samples that follow each other counted as fewer
  std::optional<Temperature> temperature;
  std::size_t samples = 0;
};

struct SteadyWindows {
  std::vector<SteadyWindow> windows;  ///< in the order of time
  std::size_t at_rest = 0;            ///< samples below 1 1/min
  std::size_t between = 0;            ///< samples on the way from one speed to the next
  std::size_t settling = 0;           ///< samples cut from the begin of a step of speed
  std::size_t drifting = 0;           ///< samples in stretches whose torque had not settled
};

/// Fewer samples make no window; common practice, no source.
inline constexpr std::size_t fewest_in_window = 10;

/// Means over the stretches in which speed and torque stand.
///
/// Method    A stretch lasts while the speed stays within 2 % (or 5 1/min) of its begin. From its
///           begin as many samples are cut, half of them at most, as make the estimated variance of
///           the mean of the rest least (marginal standard error rule). A stretch longer than a
///           tenth of the log is split, so that a run-in shows. The torque of a window may change
///           over its length by 5 % of its mean, or by no more than noise would make it. The
///           standard error of a mean counts n (1 - r)/(1 + r) of n samples, r the autocorrelation
///           from one to the next.
/// Validity  a logger that samples faster than speed and torque settle.
/// Limits    a log of one speed: windows of that speed. Nothing steady: no windows.
/// Accuracy  of the standard error about 1/sqrt(2 n_effective); too small where noise follows
///           itself over more than a tenth of a window.
/// Source    rule: K. P. White, Simulation 69 (1997) 323-334; effective samples: G. V. Bayley, J.
///           M. Hammersley, J. R. Statist. Soc. Suppl. 8 (1946) 184-197 (both from memory).
///           Thresholds: common practice, no source.
///
/// \throws std::invalid_argument, in words, if columns differ in length, time does not rise or a
///         value is no number.
SteadyWindows steady_windows(const TorqueLog& log);

}  // namespace ohmdrag::rig

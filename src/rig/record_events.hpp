#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "rig/record_signal.hpp"

namespace ohmdrag::rig {

/// A step of a voltage, with what rings after it.
struct Step {
  std::size_t sweep = 0;
  std::size_t begin = 0;  ///< last sample before the ramp
  std::size_t end = 0;    ///< first sample after ramp and steep ringing
  double middle_s = 0.0;  ///< where half of the step is passed
  double rise_s = 0.0;    ///< from 10 to 90 %
  double size_V = 0.0;    ///< signed, between the levels
  double before_V = 0.0, after_V = 0.0;
  /// Samples between this step and its neighbours: [from, begin] and (end, to).
  std::size_t from = 0, to = 0;
};

/// How much has to change for an edge, and within how many samples.
struct Steepness {
  double change_V = 0.0;
  std::size_t samples = 0;  ///< the steepest edge needs for it
};

/// The smallest lag within which the voltage changes by so much at several places, upwards and
/// downwards alike. With `away`, only where its magnitude grows: so does that of no collapse.
std::optional<std::size_t> shortest_change(const std::vector<double>& v,
                                           const std::vector<Sweep>& sweeps, double change_V,
                                           bool away);

/// Steps in order of time; without a level on either side there is none.
std::vector<Step> steps_of(const Signal& signal, const std::vector<double>& v,
                           const Steepness& steepness);

/// The level between two samples as the mean over the later half of them; none of too few.
std::optional<double> level_of(const std::vector<double>& v, std::size_t begin, std::size_t end);

/// The middle of the samples that level_of() takes.
double level_time_s(const std::vector<double>& t_s, std::size_t begin, std::size_t end);

/// A sudden fall, from sample `top` to sample `bottom`.
struct Fall {
  std::size_t sweep = 0, top = 0, bottom = 0;
  double before_V = 0.0;  ///< signed
  double jump_V = 0.0;    ///< by which the shaft was set off from the common mode
  bool rising = false;    ///< |v| still rose when it broke
};

struct FallRule {
  double least_V = 0.0;     ///< drop
  double left_V = 0.0;      ///< beside most_left
  std::size_t samples = 1;  ///< within which it falls
  double ratio = 0.0;       ///< of the common mode taken off, where it was recorded
};
std::vector<Fall> falls_of(const Signal& signal, const FallRule& rule);

/// The shaft without its falls: as if no charge had been lost.
std::vector<double> without_falls(const Signal& signal, const std::vector<Fall>& falls);

}  // namespace ohmdrag::rig

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/rig/friction_fit.hpp"
#include "ohmdrag/rig/run_findings.hpp"

namespace ohmdrag::rig {

/// Columns of a log of friction, a value a row in each that is there; speed and one of torque and
/// power are.
struct FrictionTable {
  std::vector<Time> time;
  std::vector<AngularVelocity> speed;
  std::vector<Torque> torque;
  std::vector<Power> power;
  std::vector<Temperature> temperature;
  std::vector<std::string> specimen;
  std::vector<std::string> sweep;  ///< up or down
  bool samples = false;  ///< over time, with steady windows to be found; else settled readings
};

/// A measured run of friction as its files say it.
struct FrictionMeasurement {
  FrictionRun run;  ///< without its points; a tare that is read stands below
  FrictionTable table;
  std::optional<FrictionTable> tare;
  std::string contact;               ///< entry that the result is for
  std::string force_words;           ///< as stated
  std::vector<std::string> remarks;  ///< on what was stated
};

/// The fit of a run of friction, in words and figures.
/// \param head  what the run is
/// \throws std::invalid_argument as steady_windows() and fit_friction(), for words of sweep other
///         than up and down, or a log in which nothing is steady
RunFindings friction_findings(RunFindings head, const FrictionMeasurement& measured);

}  // namespace ohmdrag::rig

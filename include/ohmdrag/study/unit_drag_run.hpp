#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/rig/run_findings.hpp"
#include "ohmdrag/study/case.hpp"

/// The measured drag of a unit and of partial builds of it, as its files say it, and its fit.
namespace ohmdrag::study {

/// What was on the rig.
struct DragBuild {
  std::string id;
  std::vector<std::string> parts;  ///< of the variant, as its budget names them
};

struct DragReading {
  std::size_t build = 0;
  AngularVelocity speed;  ///< of the shaft that is driven
  Temperature oil;
  Torque torque;
};

/// A measured run as it was read.
struct UnitDragLog {
  rig::RunFindings head;  ///< what the run is; the fit fills the rest
  std::shared_ptr<const Case> question;
  std::string variant;
  std::string shaft;  ///< that is driven
  std::vector<DragBuild> builds;
  std::vector<DragReading> readings;
  double calibration = 0.0;     ///< standard, relative, common to all readings
  std::optional<Torque> noise;  ///< standard, of one reading
};

/// What drags in a variant, as its budget names it; empty for a variant that is none of the case.
std::vector<std::string> drag_parts(const Case& question, const std::string& variant);

/// Shares the readings out to the parts.
///
/// Models  those of the case without a load, at the measured speed and oil, with new contacts; the
///         contacts of a build warm each other, those that were taken out do not. Other shafts turn
///         along by their ratios; what their parts take is referred to the driven shaft.
/// Before  each part's level, tilt and warmth (rig::UnitDragPrior) over the readings in 200 draws
/// of the
///         case, with the case's seed: means and covariance.
///
/// Accuracy  95 % intervals of parts and rest cover 90 to 98 % of what other draws of the case
/// take;
///         down to 85 % where the noise is below 1 % of a part's torque and a draw bends a model
///         otherwise than tilt and warmth do (tested).
///
/// \throws std::invalid_argument as rig::fit_unit_drag, for a variant, shaft or part that the case
///         does not have, or where a model refuses a reading.
rig::RunFindings fit_run(const UnitDragLog& log);

}  // namespace ohmdrag::study

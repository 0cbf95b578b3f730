#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>

#include "ohmdrag/duty/trip_log.hpp"
#include "ohmdrag/rig/run_findings.hpp"
#include "ohmdrag/rig/sump_fit.hpp"
#include "ohmdrag/study/case.hpp"

/// A measured warm-up of a sump, as its files say it, and its fit.
namespace ohmdrag::study {

/// Constant.
struct ConstantHeat {
  Uncertain<Power> power;
};
/// Constant, and nobody knows how much.
struct UnknownHeat {};
/// A column of the log.
struct LoggedHeat {
  Uncertain<double> factor;  ///< on every value of the column, for what the measurement may be off
};
/// What a variant of a case loses into the oil at the logged speed and temperature, with the other
/// heat of that case.
struct HeatOfCase {
  std::shared_ptr<const Case> question;
  std::string variant;
  std::string shaft;  ///< whose speed and torque the log holds, where it holds any
};
using SumpHeat = std::variant<ConstantHeat, UnknownHeat, LoggedHeat, HeatOfCase>;

/// A measured run as it was read.
struct SumpLog {
  rig::RunFindings head;  ///< what the run is; the fit fills the rest
  duty::Trip trip;        ///< with sump temperatures
  SumpHeat heat;
  std::optional<Uncertain<Temperature>> ambient;  ///< none: a column of the log
  std::optional<rig::SumpRun::AirStream> air;     ///< to be fitted
};

/// Fits a run.
///
/// Of a case the heat is that of new contacts at their middle values; its uncertainty is the
/// standard deviation of the mean heat over the case's draws, with the case's seed.
///
/// \throws std::invalid_argument as rig::fit_sump, or if the variant is none of the case or the
///         case has no vehicle.
rig::RunFindings fit_run(const SumpLog& log);

}  // namespace ohmdrag::study

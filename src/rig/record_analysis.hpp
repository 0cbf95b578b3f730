#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rig/record_events.hpp"

namespace ohmdrag::rig {

/// A record taken apart.
struct RecordAnalysis {
  Signal signal;
  std::vector<Step> edges;  ///< of the common mode; of the shaft where that was not recorded
  std::vector<double> shaft_step_V;  ///< at each edge, as if no charge had been lost; may be NaN
  /// What leaked between the levels beside each edge, over the rate of the leak.
  std::vector<double> leaked_Vs;
  std::vector<bool> undisturbed;  ///< no fall in the levels beside the edge
  std::vector<bool> idle;         ///< the common mode steps, the shaft does not: a bearing conducts
  std::vector<Fall> falls;
  std::vector<double> floated_V;  ///< the shaft as if no charge had been lost
  double ratio = 0.0;             ///< first guess of shaft over common mode
  double leak_per_s = 0.0;        ///< at which the charge of the shaft leaks away
  double leak_error_per_s = 0.0;  ///< standard
  double rise_s = 0.0;            ///< median, 10 to 90 %; 0 without an edge
  bool judged = false;            ///< falls were looked for
  double least_fall_V = 0.0;

  /// Samples that the ramp of an edge takes from its begin to its end.
  std::size_t ramp_samples() const;
};

/// \param grounded  a contact makes falls of its own: none is looked for
/// \throws std::invalid_argument as fit_shaft_voltage
RecordAnalysis analysis_of(Signal signal, const std::string& name, bool grounded);

/// What the record shows, with the trials of its edges.
RecordView view_of(const RecordAnalysis& analysis);

/// Shaft over common-mode step.
/// \param outliers  takes how many edges lie far off
std::optional<Estimate<double>> coupling_of(const RecordAnalysis& analysis,
                                            const ShaftVoltageRun& run, std::size_t& outliers,
                                            std::vector<std::string>& notes);

std::optional<RingingFit> ringing_of(const RecordAnalysis& analysis,
                                     std::vector<std::string>& notes);

}  // namespace ohmdrag::rig

#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "ohmdrag/rig/shaft_voltage_fit.hpp"

namespace ohmdrag::rig {

/// Samples without a gap: [begin, end).
struct Sweep {
  std::size_t begin = 0, end = 0;
  std::size_t size() const { return end - begin; }
};

/// A record as plain numbers.
struct Signal {
  std::vector<double> t_s, shaft_V, common_V;  ///< common_V may be empty
  std::vector<Sweep> sweeps;
  double dt_s = 0.0;
  double shaft_noise_V = 0.0, common_noise_V = 0.0;  ///< standard deviation of a sample
  double shaft_range_V = 0.0, common_range_V = 0.0;
  bool with_common() const { return !common_V.empty(); }
};

/// \param name  of the record, for refusals and warnings
/// \throws std::invalid_argument as fit_shaft_voltage
Signal signal_of(const ShaftRecord& record, const std::string& name,
                 std::vector<std::string>& warnings);

/// The middle one of the values, which it reorders; not a number of none.
double median_of(std::vector<double>& values);
/// The value below which a share lies, likewise.
double quantile_of(std::vector<double>& values, double share);

}  // namespace ohmdrag::rig

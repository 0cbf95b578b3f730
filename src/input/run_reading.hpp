#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "input/column_table.hpp"
#include "input/reader.hpp"
#include "ohmdrag/input/load_run.hpp"

/// What the readers of all kinds of measured run share.
namespace ohmdrag::input {

/// A run while it is being read.
struct RunReading {
  Problems& problems;
  const LoadOptions& options;
  ReadContext& context;
  TableReader& run;       ///< the table [run]; whoever calls the reader of a kind calls its done()
  rig::RunFindings head;  ///< kind, title, specimen, date, oil; files are added as they are read
  study::Provenance provenance;
};

/// The columns of the log that a table names, as `[run.columns]` or another table maps them. Adds
/// the file to the head of the run and, where rows were left out, says so there.
///
/// \param named  the table with `key`: [run] itself, or one of several logs
/// \return nothing after a complaint
std::optional<ColumnTable> read_run_log(RunReading& reading, TableReader& named, TableReader& keys,
                                        std::span<const MappedColumn> mapped,
                                        std::string_view key = "log");

/// A column as quantities; empty for one that is not mapped.
template <class Q>
std::vector<Q> quantities(const std::vector<double>& si) {
  std::vector<Q> out;
  out.reserve(si.size());
  for (const double value : si) out.push_back(Q::from_value(value));
  return out;
}

/// The case that `case = "…"` of a table names. Complaints of that case are thrown.
/// \throws InputError
study::Case case_of_run(RunReading& reading, TableReader& table);

/// Readers of the kinds. Each reads what its kind has in [run], complains of what is wrong, and
/// returns what is to be done once there was no complaint.
RunFit read_rig_comparison_run(RunReading& reading);
RunFit read_endurance_run(RunReading& reading);
RunFit read_force_run(RunReading& reading);
RunFit read_friction_run(RunReading& reading);
RunFit read_impedance_sweep_run(RunReading& reading);
RunFit read_shaft_voltage_run(RunReading& reading);
RunFit read_sump_run(RunReading& reading);
RunFit read_unit_drag_run(RunReading& reading);

}  // namespace ohmdrag::input

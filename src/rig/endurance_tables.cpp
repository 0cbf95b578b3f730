#include "rig/endurance_tables.hpp"

#include <fmt/format.h>

#include <cmath>

#include "ohmdrag/numerics/sample_size.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "rig/endurance_plausible.hpp"

namespace ohmdrag::rig {

namespace {

const ShownIn ohms{"ohm"}, hours{"h", 3600.0}, percent{"%", 0.01};

/// What is not told, and hours that never come, stay empty.
void add_cell(std::vector<RunCell>& row, const std::optional<double>& value) {
  if (value && std::isfinite(*value))
    row.emplace_back(*value);
  else
    row.emplace_back();
}

RunTable laws_of(const EnduranceRun& run, const EnduranceFit& fit) {
  RunTable table{"laws", "Laws of growth compared", {}, {}, false};
  table.columns = {{"law", "law"},
                   {"noise_factor", "readings within ×/÷"},
                   {"criterion", "criterion over the best"},
                   {"weight", "weight", percent}};
  if (run.service)
    table.columns.push_back({"at_service_ohm",
                             fmt::format("middle part at {}", hours_in_words(run.service->value())),
                             ohms});
  if (run.limit) table.columns.push_back({"crossing_s", "crosses the limit at", hours});
  for (const EnduranceLaw& law : fit.laws) {
    std::vector<RunCell>& row = table.rows.emplace_back();
    row.emplace_back(std::string(word_of(law.law)));
    row.emplace_back(factor_of(law.noise));
    add_cell(row, law.criterion);
    add_cell(row, law.criterion ? std::optional(law.weight) : std::nullopt);
    if (run.service) add_cell(row, law.at_service);
    if (run.limit) add_cell(row, law.crossing_s);
  }
  return table;
}

RunTable specimens_of(const EnduranceRun& run, const EnduranceFit& fit) {
  RunTable table{"specimens", "Specimens, each with its own curve", {}, {}, false};
  table.columns = {{"specimen", "specimen"},
                   {"readings", "readings"},
                   {"outliers", "far off"},
                   {"last_s", "last reading", hours},
                   {"at_begin_ohm", "at " + hours_in_words(fit.begin.value()), ohms},
                   {"at_last_ohm", "at its last", ohms}};
  if (run.limit) table.columns.push_back({"crossing_s", "crosses the limit at", hours});
  for (const EnduranceSpecimenFit& specimen : fit.specimens) {
    std::vector<RunCell>& row = table.rows.emplace_back();
    row.emplace_back(specimen.name);
    row.emplace_back(static_cast<double>(specimen.readings));
    row.emplace_back(static_cast<double>(specimen.outliers));
    row.emplace_back(specimen.last.value());
    row.emplace_back(specimen.at_begin.value());
    row.emplace_back(specimen.at_last.value());
    if (run.limit) add_cell(row, specimen.crossing_s);
  }
  return table;
}

RunTable curve_of(const EnduranceFit& fit) {
  RunTable table{"curve", "Middle part and what a further part may read", {}, {}, true};
  table.columns = {{"time_s", "time", hours},
                   {"middle_part_ohm", "middle part", ohms},
                   {"further_part_ohm", "a further part", ohms}};
  for (const EndurancePoint& point : fit.curve) {
    std::vector<RunCell>& row = table.rows.emplace_back();
    row.emplace_back(point.time.value());
    row.emplace_back(point.middle);
    if (fit.specimens.size() > 1)
      row.emplace_back(point.new_part);
    else
      row.emplace_back();
  }
  return table;
}

RunTable residuals_of(const EnduranceFit& fit) {
  RunTable table{"residuals", "Readings over their curves", {}, {}, true};
  table.columns = {{"specimen", "specimen"},
                   {"time_s", "time", hours},
                   {"impedance_ohm", "impedance", ohms},
                   {"measured_over_curve", "measured over curve"}};
  for (const EnduranceSpecimenFit& specimen : fit.specimens)
    for (std::size_t j = 0; j < specimen.time.size(); ++j) {
      std::vector<RunCell>& row = table.rows.emplace_back();
      row.emplace_back(specimen.name);
      row.emplace_back(specimen.time[j].value());
      row.emplace_back(specimen.impedance[j].value());
      row.emplace_back(std::exp(specimen.residual[j]));
    }
  return table;
}

RunTable needed_of(const EnduranceRun& run, double share) {
  constexpr int most_failures = 3;
  RunTable table{
      "specimens_needed",
      fmt::format("Specimens needed to show by counting that {} % of parts hold, with "
                  "{} % confidence",
                  print_number(100.0 * share, 4), print_number(100.0 * run.confidence, 4)),
      {},
      {},
      false};
  table.columns = {{"failures_allowed", "of which may fail"}, {"specimens", "specimens"}};
  for (int failures = 0; failures <= most_failures; ++failures) {
    std::vector<RunCell>& row = table.rows.emplace_back();
    row.emplace_back(static_cast<double>(failures));
    row.emplace_back(
        static_cast<double>(numerics::specimens_needed(share, run.confidence, failures)));
  }
  return table;
}

}  // namespace

void add_tables(RunFindings& out, const EnduranceRun& run, const EnduranceFit& fit,
                const std::optional<double>& share) {
  out.tables.push_back(laws_of(run, fit));
  out.tables.push_back(specimens_of(run, fit));
  if (share) out.tables.push_back(needed_of(run, *share));
  out.tables.push_back(curve_of(fit));
  out.tables.push_back(residuals_of(fit));
}

}  // namespace ohmdrag::rig

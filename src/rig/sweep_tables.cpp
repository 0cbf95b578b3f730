#include "rig/sweep_tables.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

double degrees(std::complex<double> ohm) { return std::arg(ohm) * 180.0 / std::numbers::pi; }

const RunColumn frequency{"frequency_Hz", "frequency", {"kHz", 1e3}},
    magnitude{"magnitude_ohm", "magnitude", {"ohm"}}, phase{"phase_deg", "phase", {"deg"}},
    modelled{"model_magnitude_ohm", "magnitude, model", {"ohm"}},
    modelled_phase{"model_phase_deg", "phase, model", {"deg"}};

double millionths(double share) { return std::round(share * 1e6) * 1e-6; }

template <class Q>
RunCell cell(const std::optional<FactorEstimate<Q>>& told) {
  if (!told) return std::monostate{};
  return Interval{told->low().value(), told->value.value(), told->high().value()};
}

}  // namespace

RunTable specimen_table(const SweepRunFit& fit) {
  const bool film = !fit.fit.path.films.empty();
  RunTable table{"specimens",
                 "Each contact out of the three pairs",
                 {{"contact", "contact"},
                  {"resistance_ohm", "resistance", {"ohm"}},
                  {"inductance_H", "inductance", {"nH", 1e-9}}},
                 {}};
  if (film) table.columns.push_back({"direct_resistance_ohm", "to a direct current", {"ohm"}});
  const std::string names = "ABC";
  for (std::size_t k = 0; k < fit.specimens.size(); ++k) {
    const SweepFit& specimen = fit.specimens[k];
    table.rows.push_back(
        {std::string(1, names[k]), cell(specimen.resistance), cell(specimen.inductance)});
    if (film) table.rows.back().push_back(cell(specimen.direct_resistance));
  }
  return table;
}

RunTable course_table(const SweepRunFit& fit) {
  RunTable table{"course",
                 "Impedance of one contact at some frequencies",
                 {frequency, magnitude, phase, modelled, modelled_phase},
                 {}};
  constexpr std::size_t most_rows = 9;
  const Sweep points = sorted(fit.sweep);
  const std::size_t rows = std::min(most_rows, points.size());
  for (std::size_t k = 0; k < rows; ++k) {
    const SweepPoint& point = points[k * (points.size() - 1) / (rows - 1)];
    const auto model = voltage::impedance_ohm(fit.fit.path, point.frequency);
    table.rows.push_back({point.frequency.value(), std::abs(point.ohm), degrees(point.ohm),
                          std::abs(model), degrees(model)});
  }
  return table;
}

RunTable model_table(const SweepRunFit& fit) {
  RunTable table{"models",
                 "Models side by side",
                 {{"model", "model"},
                  {"parameters", "unknowns"},
                  {"residual_rms", "residual", {"%", 0.01}},
                  {"aicc_over_best", "AICc over the best"},
                  {"akaike_weight", "Akaike's weight"}},
                 {}};
  for (const ModelRank& rank : fit.fit.ranks) {
    std::vector<RunCell> row{std::string(in_words(rank.model)),
                             static_cast<double>(rank.parameters)};
    if (rank.fitted)
      row.insert(row.end(), {rank.residual_rms, rank.aicc_over_best, millionths(rank.weight)});
    else
      row.insert(row.end(), 3, std::monostate{});
    table.rows.push_back(std::move(row));
  }
  return table;
}

RunTable point_table(const SweepRunFit& fit) {
  RunTable table{"points",
                 "Impedance of one contact without fixture, and what the model misses over |Z|",
                 {frequency,
                  magnitude,
                  phase,
                  modelled,
                  modelled_phase,
                  {"residual_real", "residual, real"},
                  {"residual_imaginary", "residual, imaginary"},
                  {"far_off", "far off"}},
                 {},
                 true};
  for (std::size_t i = 0; i < fit.sweep.size(); ++i) {
    const SweepPoint& point = fit.sweep[i];
    const auto model = voltage::impedance_ohm(fit.fit.path, point.frequency);
    const bool far_off = std::ranges::binary_search(fit.fit.outliers, i);
    table.rows.push_back({point.frequency.value(), std::abs(point.ohm), degrees(point.ohm),
                          std::abs(model), degrees(model), fit.fit.residual[i].real(),
                          fit.fit.residual[i].imag(), far_off ? 1.0 : 0.0});
  }
  return table;
}

}  // namespace ohmdrag::rig

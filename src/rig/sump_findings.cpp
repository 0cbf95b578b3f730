#include "ohmdrag/rig/sump_findings.hpp"

#include <fmt/format.h>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

const ShownIn kilojoules_per_kelvin{"kJ/K", 1e3}, watts_per_kelvin{"W/K"}, kelvins{"K"},
    seconds{"s"}, celsius{"°C", 1.0, 273.15};

std::string heat_in_words(const SumpHeatSource& heat) {
  if (heat.mean == Power{}) return heat.words + '.';
  return fmt::format("{}; {} W in the mean, ± {} % (95 %).", heat.words,
                     print_number(heat.mean.value(), 3), print_number(196.0 * heat.uncertainty, 2));
}

void add_quality(RunFindings& out, const SumpFit& fit) {
  if (fit.correlation)
    out.quality.emplace_back("Correlation", fmt::format("{} between heat capacity and conductance.",
                                                        print_number(*fit.correlation, 2)));
  out.quality.emplace_back(
      "Residuals",
      fmt::format("{} K root mean square over {} samples; {} from one sample to the next, so {} "
                  "samples count; {} far off, which count less and are not left out.",
                  print_number(fit.residual_rms.value(), 2), fit.samples,
                  print_number(fit.lag_one, 2), print_number(fit.effective_samples, 2),
                  fit.outliers));
  out.quality.emplace_back(
      "End of the log",
      fmt::format("{:.2f} °C modelled (standard error {} K), {:.2f} °C measured.",
                  in_celsius(fit.end_modelled), print_number(fit.end_error.value(), 2),
                  in_celsius(fit.end_measured)));
}

void add_figures(RunFindings& out, const std::optional<SumpRun::AirStream>& air,
                 const SumpFit& fit) {
  auto& figures = out.figures;
  figures.push_back(run_figure("heat_capacity_J_per_K", "heat capacity", kilojoules_per_kelvin,
                               fit.heat_capacity));
  figures.push_back(
      run_figure("conductance_W_per_K", "conductance", watts_per_kelvin, fit.conductance));
  if (air)
    figures.push_back(
        run_figure("air_stream_W_per_K",
                   fmt::format("added by the air stream at {:.4g} km/h", in_kmh(air->at)),
                   watts_per_kelvin, fit.air_stream));
  figures.push_back(run_figure("time_constant_s", "time constant", seconds, fit.time_constant));
  if (fit.final_rise)
    figures.push_back(
        run_figure("final_rise_K", "final rise over the ambient", kelvins, fit.final_rise));
}

/// What the words of the quality say, for programs.
void add_quality_figures(RunFindings& out, const SumpHeatSource& heat, const SumpFit& fit) {
  const auto add = [&](const char* key, const char* name, const ShownIn& shown, double value) {
    out.figures.push_back(plain_figure(key, name, shown, value));
    out.figures.back().only_in_document = true;
  };
  if (fit.correlation)
    add("correlation_heat_capacity_conductance", "correlation of heat capacity and conductance", {},
        *fit.correlation);
  add("residual_rms_K", "root mean square of the residuals", kelvins, fit.residual_rms.value());
  add("lag_one_autocorrelation", "correlation of one residual to the next", {}, fit.lag_one);
  add("effective_samples", "independent samples that tell as much", {}, fit.effective_samples);
  add("outliers", "samples far off", {}, static_cast<double>(fit.outliers));
  add("end_measured_K", "measured at the end of the log", celsius, fit.end_measured.value());
  add("end_modelled_K", "modelled at the end of the log", celsius, fit.end_modelled.value());
  if (heat.mean == Power{}) return;
  add("mean_heat_W", "mean heat", {"W"}, heat.mean.value());
  add("heat_relative_standard_uncertainty", "standard uncertainty of the heat over it", {},
      heat.uncertainty);
}

template <class Q>
EntryLine line_of(const std::string& key, const Estimate<Q>& estimate, const ShownIn& shown) {
  FittedNumber number;
  number.value = estimate.value.value();
  number.shown = shown;
  number.spread = estimate.half_width.value();
  return {key, number};
}

void add_entries(RunFindings& out, const std::optional<SumpRun::AirStream>& air,
                 const SumpFit& fit) {
  if (!fit.heat_capacity && !fit.conductance) {
    out.no_entry = "the run tells neither heat capacity nor conductance";
    return;
  }
  FittedEntry sump{"sump", {}, {}};
  if (fit.heat_capacity)
    sump.lines.push_back(line_of("heat_capacity", *fit.heat_capacity, kilojoules_per_kelvin));
  if (fit.conductance)
    sump.lines.push_back(line_of("conductance", *fit.conductance, watts_per_kelvin));
  out.entries.push_back(std::move(sump));
  if (fit.correlation && fit.heat_capacity && fit.conductance)
    out.correlations.push_back(fitted_correlation({"sump.heat_capacity", "sump.conductance"},
                                                  {1.0, *fit.correlation, *fit.correlation, 1.0}));
  if (fit.conductance && fit.air_stream)
    out.entries.push_back({"sump.conductance_speed",
                           {},
                           {line_of("added", *fit.air_stream, watts_per_kelvin),
                            {"at", fmt::format("{} km/h", print_number(in_kmh(air->at), 6))},
                            {"exponent", air->exponent}}});
}

}  // namespace

RunFindings sump_findings(RunFindings head, const SumpHeatSource& heat,
                          const std::optional<SumpRun::AirStream>& air, const SumpFit& fit) {
  RunFindings out = std::move(head);
  out.conditions.emplace_back("Heat", heat_in_words(heat));
  out.model = "Sump: one body, C dT/dt = Q - G (T - T_ambient)";
  add_figures(out, air, fit);
  add_quality(out, fit);
  add_quality_figures(out, heat, fit);
  out.notes = fit.notes;
  out.source_remark = "heat: " + heat.words;
  add_entries(out, air, fit);
  return out;
}

}  // namespace ohmdrag::rig

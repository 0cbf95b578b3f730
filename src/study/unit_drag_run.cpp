#include "ohmdrag/study/unit_drag_run.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "study/unit_drag.hpp"

namespace ohmdrag::study {
namespace {

const rig::ShownIn newton_metres{"N·m"}, per_minute{"1/min", from_rpm(1.0).value()},
    celsius{"°C", 1.0, kelvin_at_zero_celsius};

/// Keys of a document have no dashes.
std::string key_of(std::string part) {
  std::ranges::replace(part, '-', '_');
  return part;
}

void add_conditions(rig::RunFindings& out, const UnitDragLog& log) {
  out.conditions.emplace_back(
      "Case",
      fmt::format("variant {} of {}, driven at shaft {} without a load", log.variant,
                  std::filesystem::path(log.question->provenance.file).lexically_normal().string(),
                  log.shaft));
  for (std::size_t b = 0; b < log.builds.size(); ++b)
    out.conditions.emplace_back(
        fmt::format("Build {}", log.builds[b].id),
        fmt::format("{}; {} readings", fmt::join(log.builds[b].parts, ", "),
                    std::ranges::count(log.readings, b, &DragReading::build)));
  out.conditions.emplace_back(
      "Calibration", log.calibration > 0.0
                         ? fmt::format("common to all readings, ± {} % (95 %)",
                                       print_number(196.0 * log.calibration, 2))
                         : std::string("taken as exact: its error would widen every part"));
}

void add_figures(rig::RunFindings& out, const rig::UnitDragFit& fit) {
  for (const rig::CorrectedPart& part : fit.parts) {
    rig::RunFigure factor{
        key_of(part.name) + "_factor", part.name + ", over its model", {}, {}, false};
    if (part.factor)
      factor.told = {{part.factor->value, part.factor->value * part.factor->relative_error,
                      std::pair{part.factor->low, part.factor->high}}};
    out.figures.push_back(std::move(factor));
  }
  for (const rig::CorrectedPart& part : fit.parts)
    out.figures.push_back(rig::run_figure(key_of(part.name) + "_torque_Nm",
                                          part.name + ", mean torque", newton_metres,
                                          std::optional(part.torque)));
  out.figures.push_back(rig::run_figure("rest_torque_Nm", "rest that no part explains",
                                        newton_metres, std::optional(fit.rest)));
  const auto plain = [&](const char* key, const char* name, const rig::ShownIn& shown,
                         double value) {
    out.figures.push_back(rig::plain_figure(key, name, shown, value));
    out.figures.back().only_in_document = true;
  };
  plain("noise_Nm", "standard deviation of a reading", newton_metres, fit.noise.value());
  plain("calibration_error", "relative error of the readings that fits best", {}, fit.calibration);
  plain("lag_one_autocorrelation", "correlation of what is left over, one reading to the next", {},
        fit.lag_one);
  plain("outliers", "readings that stand apart", {}, static_cast<double>(fit.outliers.size()));
  plain("reference_speed_rad_per_s", "speed of the factors", per_minute, fit.reference.value());
}

Interval interval_of(const rig::CorrectedPart::Factor& factor) {
  return {factor.low, factor.value, factor.high};
}
template <class Q>
Interval interval_of(const rig::Estimate<Q>& estimate) {
  const auto raw = [](const auto& value) {
    if constexpr (std::is_same_v<Q, double>)
      return value;
    else
      return value.value();
  };
  const double value = raw(estimate.value), half = raw(estimate.half_width);
  return {value - half, value, value + half};
}

rig::RunTable parts_table(const UnitDragLog& log, const rig::UnitDragFit& fit) {
  rig::RunTable table{
      "parts",
      fmt::format("Parts, factors at {:.0f} 1/min and {:.0f} °C, torques in the mean of build {}",
                  in_rpm(fit.reference), in_celsius(fit.reference_oil),
                  log.builds[fit.fullest_build].id),
      {{"part", "part"},
       {"factor_before", "factor before"},
       {"factor", "factor"},
       {"speed_exponent", "speed exponent on top"},
       {"oil_slope_per_K", "oil slope on top", {"%/K", 0.01}},
       {"torque_before_Nm", "by its model", newton_metres},
       {"torque_Nm", "corrected", newton_metres},
       {"band", "band before"}},
      {}};
  for (const rig::CorrectedPart& part : fit.parts)
    table.rows.push_back({part.name, interval_of(part.before),
                          part.factor ? rig::RunCell(interval_of(*part.factor)) : rig::RunCell(),
                          interval_of(part.tilt), interval_of(part.warmth), part.torque_before_Nm,
                          interval_of(part.torque),
                          std::string(part.leaves_band       ? "left"
                                      : part.bends_otherwise ? "kept, bends otherwise"
                                                             : "kept")});
  return table;
}

/// Means of each build: the parts and the rest are what was measured.
rig::RunTable builds_table(const UnitDragLog& log, const UnitDragModel& model,
                           const rig::UnitDragFit& fit) {
  rig::RunTable table{"builds",
                      "Mean torque of each build, shared out",
                      {{"build", "build"}, {"measured_Nm", "measured", newton_metres}},
                      {}};
  for (const std::string& part : model.parts())
    table.columns.push_back({key_of(part) + "_Nm", part, newton_metres});
  table.columns.push_back({"rest_Nm", "rest", newton_metres});
  for (std::size_t b = 0; b < log.builds.size(); ++b) {
    std::vector<double> sums(model.parts().size() + 2);
    double readings = 0.0;
    for (std::size_t i = 0; i < fit.points.size(); ++i) {
      if (log.readings[i].build != b) continue;
      readings += 1.0;
      sums.front() += fit.points[i].measured.value();
      for (std::size_t p = 0; p < model.parts().size(); ++p)
        sums[p + 1] += fit.points[i].parts[p].value();
      sums.back() += fit.points[i].rest.value();
    }
    std::vector<rig::RunCell> row{log.builds[b].id};
    for (std::size_t c = 0; c < sums.size(); ++c) {
      const bool there =
          readings > 0.0 && (c == 0 || c + 1 == sums.size() || model.fitted()[b][c - 1]);
      row.push_back(there ? rig::RunCell(sums[c] / readings) : rig::RunCell());
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

rig::RunTable matrix(const std::string& key, const std::string& title, const UnitDragModel& model,
                     const std::vector<double>& values, bool only_in_document) {
  rig::RunTable table{key, title, {{"part", "part"}}, {}, only_in_document};
  const std::size_t n = model.parts().size();
  for (const std::string& part : model.parts()) table.columns.push_back({key_of(part), part});
  for (std::size_t p = 0; p < n; ++p) {
    std::vector<rig::RunCell> row{model.parts()[p]};
    for (std::size_t q = 0; q < n; ++q) row.emplace_back(values[p * n + q]);
    table.rows.push_back(std::move(row));
  }
  return table;
}

rig::RunTable readings_table(const UnitDragLog& log, const UnitDragModel& model,
                             const rig::UnitDragFit& fit) {
  rig::RunTable table{"readings",
                      "Readings, shared out",
                      {{"build", "build"},
                       {"speed_rad_per_s", "speed", per_minute},
                       {"oil_K", "oil", celsius},
                       {"measured_Nm", "measured", newton_metres}},
                      {},
                      true};
  for (const std::string& part : model.parts())
    table.columns.push_back({key_of(part) + "_Nm", part, newton_metres});
  table.columns.push_back({"rest_Nm", "rest", newton_metres});
  table.columns.push_back({"stands_apart", "stands apart"});
  for (std::size_t i = 0; i < fit.points.size(); ++i) {
    const DragReading& reading = log.readings[i];
    std::vector<rig::RunCell> row{log.builds[reading.build].id, reading.speed.value(),
                                  reading.oil.value(), reading.torque.value()};
    for (const Torque& part : fit.points[i].parts) row.emplace_back(part.value());
    row.emplace_back(fit.points[i].rest.value());
    row.emplace_back(std::string(fit.points[i].outlier ? "yes" : "no"));
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace

rig::RunFindings fit_run(const UnitDragLog& log) {
  for (const DragReading& reading : log.readings) rig::require_reading(reading.speed, reading.oil);
  const UnitDragModel model(log);
  rig::UnitDragRun run;
  std::vector<std::vector<double>> middle_Nm;
  try {
    middle_Nm = model.torques_Nm(Draw());
    run.prior = drag_prior(log, model, middle_Nm);
  } catch (const std::domain_error& error) {
    throw std::invalid_argument(
        fmt::format("a model of the case refuses a reading: {}", error.what()));
  }
  run.parts = model.parts();
  for (const DragBuild& build : log.builds) run.builds.push_back(build.id);
  run.fitted = model.fitted();
  run.calibration = log.calibration;
  run.noise = log.noise;
  for (std::size_t i = 0; i < log.readings.size(); ++i) {
    const DragReading& reading = log.readings[i];
    rig::UnitDragPoint point{reading.build, reading.speed, reading.oil, reading.torque, {}};
    for (const double torque : middle_Nm[i]) point.model.push_back(Torque::from_value(torque));
    run.points.push_back(std::move(point));
  }
  const rig::UnitDragFit fit = rig::fit_unit_drag(run);

  rig::RunFindings out = log.head;
  add_conditions(out, log);
  out.model =
      "Drag: (1 + k) (sum of each part's model with its factor, power of the speed and slope over "
      "the oil, + rest); all but the rest known beforehand, by the case's draws and the "
      "calibration";
  add_figures(out, fit);
  out.tables = {
      parts_table(log, fit), builds_table(log, model, fit),
      matrix("correlation", "Correlation of the factors", model, fit.correlation, false),
      matrix("covariance_N2m2", "Covariance of the mean torques", model, fit.covariance, true),
      readings_table(log, model, fit)};
  out.quality.emplace_back(
      "Left over",
      fmt::format("{} N m standard deviation of a reading{}; {} from one reading to "
                  "the next; {} of {} stand apart, which count less and are not left "
                  "out.",
                  print_number(fit.noise.value(), 2),
                  fit.noise_stated ? ", as stated or wider" : "", print_number(fit.lag_one, 2),
                  fit.outliers.size(), fit.points.size()));
  out.notes = fit.notes;
  out.warnings = fit.warnings;
  out.cautions.emplace_back(
      "A unit on a rig has rotating shafts and hot parts, and an inverter's link stays at high "
      "voltage after it is switched off; stripping down begins when everything stands still, is "
      "cold and discharged. Qualified persons only; local rules come first.");
  out.source_remark = fmt::format("models: variant {}", log.variant);
  add_drag_entries(out, log, model, fit);
  return out;
}

}  // namespace ohmdrag::study

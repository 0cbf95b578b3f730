#include "ohmdrag/rig/friction_findings.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "rig/friction_table.hpp"

namespace ohmdrag::rig {

namespace {

const ShownIn plain{}, millinewton_metres{"mN·m", 1e-3}, watts{"W"}, metres_per_second{"m/s"},
    per_minute{"1/min", std::numbers::pi / 30.0}, celsius{"°C", 1.0, kelvin_at_zero_celsius},
    per_cent{"%", 0.01};

Interval interval_of(double value, double half, double factor = 1.0) {
  return {factor * (value - half), factor * value, factor * (value + half)};
}

/// Writes the document of one fit.
class Findings {
 public:
  Findings(RunFindings head, const FrictionMeasurement& measured, const FrictionFit& fit)
      : out_(std::move(head)), measured_(measured), fit_(fit) {}

  RunFindings findings(const ReadPoints& read, const std::optional<ReadPoints>& tare) {
    add_conditions(read, tare);
    out_.model = fmt::format("Friction law: {}", fit_.title);
    add_figures();
    add_laws();
    add_curve();
    add_specimens();
    add_points();
    add_quality();
    out_.notes = fit_.notes;
    out_.warnings.insert(out_.warnings.end(), fit_.warnings.begin(), fit_.warnings.end());
    out_.cautions.emplace_back(
        "Rotating shafts, hot seals and hot oil can injure. Run only on a guarded rig; local "
        "safety rules and codes come first.");
    add_entry();
    return std::move(out_);
  }

 private:
  void add_conditions(const ReadPoints& read, const std::optional<ReadPoints>& tare) {
    out_.conditions.emplace_back(
        "Contact",
        fmt::format("{}{} on {} mm, {}", measured_.run.elements == 2 ? "two of " : "",
                    measured_.contact, print_number(1e3 * measured_.run.diameter.value(), 4),
                    measured_.force_words));
    for (const std::string& remark : measured_.remarks)
      out_.conditions.emplace_back("Stated", remark);
    for (const std::string& text : read.conditions) out_.conditions.emplace_back("Windows", text);
    out_.warnings = read.warnings;
    if (!tare) return;
    for (const std::string& text : tare->conditions) out_.conditions.emplace_back("Tare", text);
    out_.warnings.insert(out_.warnings.end(), tare->warnings.begin(), tare->warnings.end());
  }

  void add_figures() {
    for (const LawParameter& parameter : fit_.parameters)
      out_.figures.push_back(run_figure(parameter.key, parameter.name, plain, parameter.value));
    if (fit_.hysteresis)
      out_.figures.push_back(run_figure("up_less_down_over_mean", "torque up less down, over mean",
                                        per_cent, fit_.hysteresis));
    if (fit_.part_scatter) {
      RunFigure scatter{"part_scatter_over_mean", "scatter from part to part, standard deviation",
                        per_cent, RunFigure::Told{*fit_.part_scatter, {}, {}}, false};
      if (fit_.part_scatter_interval) scatter.told->interval = fit_.part_scatter_interval;
      out_.figures.push_back(std::move(scatter));
    }
    if (!fit_.run_in) return;
    out_.figures.push_back(run_figure("run_in_rise", "run-in, above the level at its begin",
                                      per_cent, std::optional(fit_.run_in->rise)));
    out_.figures.push_back(run_figure("run_in_time_s", "run-in, time of its decay", {"h", 3600.0},
                                      std::optional(fit_.run_in->time)));
  }

  void add_laws() {
    RunTable table{"laws",
                   "Laws held against the run",
                   {{"law", "law"},
                    {"constants", "constants"},
                    {"aicc_above_best", "AICc above the best"},
                    {"akaike_weight", "weight"},
                    {"rms_Nm", "residual", millinewton_metres}},
                   {},
                   false};
    for (const ComparedLaw& law : fit_.compared)
      table.rows.push_back({law.title + (law.chosen ? " (named)" : ""),
                            static_cast<double>(law.sought), law.above_least,
                            std::round(1e4 * law.weight) / 1e4, law.rms.value()});
    out_.tables.push_back(std::move(table));
  }

  void add_curve() {
    RunTable table{"curve",
                   measured_.run.elements == 2 ? "One element, in the mean of both"
                                               : "Torque and power of the law",
                   {{"speed_rad_per_s", "speed", per_minute},
                    {"surface_speed_m_per_s", "surface", metres_per_second},
                    {"torque_Nm", "torque", millinewton_metres},
                    {"power_W", "power", watts}},
                   {},
                   false};
    for (const CurvePoint& point : fit_.curve) {
      const double speed = point.speed.value(), torque = point.torque.value.value(),
                   half = point.torque.half_width.value();
      table.rows.push_back({speed, 0.5 * speed * measured_.run.diameter.value(),
                            interval_of(torque, half), interval_of(torque, half, speed)});
    }
    out_.tables.push_back(std::move(table));
  }

  void add_specimens() {
    if (fit_.specimens.empty()) return;
    RunTable table{
        "specimens",
        "Specimens over their mean",
        {{"specimen", fit_.resolved_pairs || measured_.run.elements == 1 ? "specimen" : "pair"},
         {"level", "friction over the mean"}},
        {},
        false};
    for (const SpecimenLevel& specimen : fit_.specimens)
      table.rows.push_back(
          {specimen.name, interval_of(specimen.level.value, specimen.level.half_width)});
    out_.tables.push_back(std::move(table));
  }

  void add_points() {
    RunTable table{"readings",
                   "Readings, of one element",
                   {{"speed_rad_per_s", "speed", per_minute},
                    {"temperature_K", "temperature", celsius},
                    {"specimen", "specimen"},
                    {"torque_Nm", "torque", millinewton_metres},
                    {"modelled_Nm", "law", millinewton_metres},
                    {"far_off", "far off"}},
                   {},
                   true};
    for (const FittedPoint& point : fit_.points)
      table.rows.push_back(
          {point.read.speed.value(),
           point.read.temperature ? RunCell(point.read.temperature->value()) : RunCell(),
           point.read.specimen.empty() ? RunCell() : RunCell(point.read.specimen),
           point.torque.value(), point.modelled.value(),
           std::string(point.far_off ? "yes" : "no")});
    out_.tables.push_back(std::move(table));
  }

  void add_quality() {
    double squares = 0.0, mean = 0.0;
    const auto n = static_cast<double>(fit_.points.size());
    for (const FittedPoint& point : fit_.points) {
      squares += std::pow((point.torque - point.modelled).value(), 2) / n;
      mean += point.torque.value() / n;
    }
    out_.quality.emplace_back(
        "Residuals", fmt::format("{} mN·m root mean square over {} readings, {} % of their mean.",
                                 print_number(1e3 * std::sqrt(squares), 2), fit_.points.size(),
                                 print_number(100.0 * std::sqrt(squares) / mean, 2)));
    out_.quality.emplace_back("Range", range_in_words() + ".");
  }

  std::string range_in_words() const {
    const double radius = 0.5 * measured_.run.diameter.value();
    std::string text =
        fmt::format("{} to {} 1/min ({} to {} m/s)", print_number(in_rpm(fit_.least_speed), 4),
                    print_number(in_rpm(fit_.highest_speed), 4),
                    print_number(fit_.least_speed.value() * radius, 3),
                    print_number(fit_.highest_speed.value() * radius, 3));
    if (fit_.temperatures)
      text += fmt::format(", {:.0f} to {:.0f} degC {}", in_celsius(fit_.temperatures->first),
                          in_celsius(fit_.temperatures->second),
                          measured_.run.contact_temperature ? "at the contact" : "logged");
    return text + ", " + measured_.force_words;
  }

  void add_entry() {
    FittedEntry entry{"contact." + measured_.contact, range_in_words(), {}};
    entry.lines.push_back({"friction_law", fit_.law});
    bool told = false;
    for (const LawParameter& parameter : fit_.parameters) {
      if (!parameter.value) continue;
      told = true;
      FittedNumber number;
      number.value = parameter.value->value;
      number.spread = parameter.value->half_width;
      if (parameter.level && fit_.part_scatter && *fit_.part_scatter > 0.0)
        number.scatter_factor = std::exp(normal_95 * *fit_.part_scatter);
      entry.lines.push_back({parameter.key, number});
    }
    if (!told) {
      out_.no_entry = "the run tells no constant of the law";
      return;
    }
    for (const auto& [key, value] : fit_.held) {
      if (key == "least_pressure")
        entry.lines.push_back({key, print_number(1e-6 * value, 6) + " MPa"});
      else
        entry.lines.push_back({key, value});
    }
    out_.entries.push_back(std::move(entry));
    out_.entry_comments.push_back(
        fmt::format("Torque was measured; the coefficient is that at {}. With another force the "
                    "case computes another torque.",
                    measured_.force_words));
    if (fit_.part_scatter && !fit_.part_scatter_interval && *fit_.part_scatter > 0.0)
      out_.entry_comments.emplace_back(
          "Scatter: assumed, one of two elements taking 0.3 to 0.7 of their torque.");
    add_correlations();
  }

  /// The constants were told together, and a part that rubs more does so in all of its levels.
  void add_correlations() {
    const std::size_t n = fit_.parameters.size();
    std::vector<std::size_t> told, levels;
    for (std::size_t i = 0; i < n; ++i) {
      if (!fit_.parameters[i].value) continue;
      told.push_back(i);
      if (fit_.parameters[i].level) levels.push_back(i);
    }
    const auto add = [&](const std::vector<std::size_t>& among, bool of_scatter) {
      if (among.size() < 2) return;
      std::vector<std::string> keys;
      std::vector<double> matrix;
      for (const std::size_t i : among) {
        keys.push_back("contact." + measured_.contact + '.' + fit_.parameters[i].key);
        for (const std::size_t j : among)
          matrix.push_back(of_scatter ? 1.0 : fit_.correlation[i * n + j]);
      }
      out_.correlations.push_back(
          fitted_correlation(std::move(keys), std::move(matrix), of_scatter));
    };
    add(told, false);
    if (fit_.part_scatter && *fit_.part_scatter > 0.0) add(levels, true);
  }

  RunFindings out_;
  const FrictionMeasurement& measured_;
  const FrictionFit& fit_;
};

}  // namespace

RunFindings friction_findings(RunFindings head, const FrictionMeasurement& measured) {
  FrictionRun run = measured.run;
  const std::string name = head.files.empty() ? "log" : head.files.front().name;
  const ReadPoints read = points_of(measured.table, name);
  run.points = read.points;
  std::optional<ReadPoints> tare;
  if (measured.tare) {
    tare = points_of(*measured.tare, head.files.size() > 1 ? head.files[1].name : "tare");
    std::vector<TareReading> readings;
    for (const FrictionPoint& point : tare->points)
      readings.push_back({point.speed, point.torque, point.standard_error});
    run.tare = std::move(readings);
  }
  const FrictionFit fit = fit_friction(run);
  return Findings(std::move(head), measured, fit).findings(read, tare);
}

}  // namespace ohmdrag::rig

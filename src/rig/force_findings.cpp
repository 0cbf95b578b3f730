#include "ohmdrag/rig/force_findings.hpp"

#include <fmt/format.h>

#include <cmath>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

const ShownIn plain{}, ohms{"ohm"}, millinewton_metres{"mN·m", 1e-3}, per_cent{"%", 0.01};

RunFigure figure_of(std::string key, std::string name, ShownIn shown, double value,
                    std::optional<double> error, std::pair<double, double> ends) {
  return {std::move(key), std::move(name), std::move(shown), RunFigure::Told{value, error, ends},
          false};
}

RunFigure figure_of(std::string key, std::string name, ShownIn shown,
                    const Estimate<double>& estimate, double sign = 1.0) {
  const double value = sign * estimate.value;
  return figure_of(std::move(key), std::move(name), std::move(shown), value,
                   estimate.standard_error,
                   {value - estimate.half_width, value + estimate.half_width});
}

class Findings {
 public:
  Findings(RunFindings head, const ForceMeasurement& measured, const ForceFit& fit)
      : out_(std::move(head)), measured_(measured), fit_(fit) {}

  RunFindings findings() {
    out_.conditions.emplace_back(
        "Contact", fmt::format("{}{}, {}", measured_.run.elements == 2 ? "two in series of " : "",
                               measured_.contact, range_in_words()));
    if (!measured_.signal_words.empty())
      out_.conditions.emplace_back("Impedance", measured_.signal_words);
    out_.model = "Over force: y = level (F/F_ref)^exponent, F_ref " + force_text(fit_.reference);
    if (fit_.impedance)
      add_law(*fit_.impedance, "impedance", "impedance_force_exponent_m",
              "exponent m of the impedance, R ~ F^-m", -1.0, "impedance_at_reference_ohm", ohms);
    if (fit_.torque)
      add_law(*fit_.torque, "torque", "torque_force_exponent", "exponent of the torque", 1.0,
              "torque_at_reference_Nm", millinewton_metres);
    if (fit_.impedance) add_readings(*fit_.impedance, "impedance", "impedance_ohm", ohms);
    if (fit_.torque) add_readings(*fit_.torque, "torque", "torque_Nm", millinewton_metres);
    out_.notes = fit_.notes;
    out_.warnings = fit_.warnings;
    out_.cautions.emplace_back(
        "Rotating shafts and hot parts can injure, and a shaft that seems grounded may carry "
        "voltage. Measure on a guarded rig without power; local safety rules and codes come "
        "first.");
    add_entry();
    return std::move(out_);
  }

 private:
  const char* unit() const { return measured_.run.per_length ? "N/m" : "N"; }
  std::string force_text(double force) const {
    return fmt::format("{} {}", print_number(force, 4), unit());
  }
  std::string range_in_words() const {
    return fmt::format("{} to {}", print_number(fit_.lowest, 3), force_text(fit_.highest));
  }

  void add_law(const PowerOfForce& law, const std::string& what, const std::string& key,
               const std::string& name, double sign, const std::string& level_key,
               const ShownIn& shown) {
    out_.figures.push_back(figure_of(key, name, plain, law.exponent, sign));
    out_.figures.push_back(figure_of(level_key, what + " at the reference, one element", shown,
                                     law.level, {}, law.level_ends));
    out_.figures.push_back(plain_figure(what + "_left_by_twice_the_force",
                                        what + " that twice the force leaves", per_cent,
                                        std::pow(2.0, law.exponent.value)));
    if (law.bend)
      out_.figures.push_back(figure_of(
          what + "_exponent_bend", "change of that exponent over the run", plain, *law.bend, sign));
    if (law.hysteresis)
      out_.figures.push_back(figure_of(what + "_loading_less_unloading",
                                       what + ", loading less unloading", per_cent,
                                       *law.hysteresis));
    if (law.part_scatter)
      out_.figures.push_back(plain_figure(what + "_part_scatter",
                                          what + ", scatter from part to part", per_cent,
                                          *law.part_scatter));
    out_.quality.emplace_back(
        "Scatter of the " + what,
        fmt::format("{} % of a reading, over {} readings at {} forces.",
                    print_number(100.0 * law.deviation, 2), law.modelled.size(), fit_.forces));
  }

  void add_readings(const PowerOfForce& law, const std::string& what, const std::string& key,
                    const ShownIn& shown) {
    RunTable table{
        what + "_readings",
        "Readings, of one element",
        {{measured_.run.per_length ? "line_force_N_per_m" : "force_N", "force", {unit()}},
         {"specimen", "specimen"},
         {key, what, shown},
         {"modelled_" + key, "law", shown}},
        {},
        true};
    for (const auto& [i, modelled] : law.modelled) {
      const ForcePoint& point = measured_.run.points[i];
      const double off = what == "torque" ? measured_.run.tare.value() : measured_.run.lead.value();
      const double read = what == "torque" ? point.torque->value() : point.impedance->value();
      table.rows.push_back({point.force,
                            point.specimen.empty() ? RunCell() : RunCell(point.specimen),
                            (read - off) / measured_.run.elements, modelled});
    }
    out_.tables.push_back(std::move(table));
  }

  /// The power law of the impedance as contact::DryResistance knows it: no bulk, all in the film.
  void add_entry() {
    if (!fit_.impedance) {
      out_.no_entry = "the run holds no impedance, and an entry knows no exponent of the torque";
      return;
    }
    const double m = -fit_.impedance->exponent.value;
    if (!(m >= 0.0 && m <= 1.0)) {
      out_.no_entry = fmt::format("an exponent of {} is none that an entry knows; expected 0 to 1",
                                  print_number(m, 2));
      return;
    }
    if (measured_.run.per_length && !measured_.diameter) {
      out_.no_entry = "a ring's entry needs the diameter that the run was made on";
      return;
    }
    FittedNumber film, exponent;
    film.value = fit_.impedance->level;
    film.shown = ohms;
    // On a logarithmic scale the ends lie as far apart either way.
    film.spread_factor = fit_.impedance->level_ends.second / fit_.impedance->level;
    if (fit_.impedance->part_scatter && *fit_.impedance->part_scatter > 0.0)
      film.scatter_factor = std::exp(normal_95 * *fit_.impedance->part_scatter);
    exponent.value = m;
    exponent.spread = fit_.impedance->exponent.half_width;
    FittedEntry entry{"contact." + measured_.contact + ".resistance", range_in_words(), {}};
    entry.lines.push_back({"bulk", std::string("0 ohm")});
    entry.lines.push_back({"film", film});
    if (measured_.run.per_length) {
      entry.lines.push_back({"at_line_force", force_text(fit_.reference)});
      entry.lines.push_back(
          {"at_diameter", print_number(1e3 * measured_.diameter->value(), 6) + " mm"});
    } else {
      entry.lines.push_back({"at_force", force_text(fit_.reference)});
    }
    entry.lines.push_back({"count_exponent", 0.0});
    entry.lines.push_back({"film_exponent", exponent});
    out_.entries.push_back(std::move(entry));
    out_.entry_comments.emplace_back(
        "The whole impedance follows one power of the force: bulk and spots are not told apart, "
        "so all of it stands as film.");
  }

  RunFindings out_;
  const ForceMeasurement& measured_;
  const ForceFit& fit_;
};

}  // namespace

RunFindings force_findings(RunFindings head, const ForceMeasurement& measured) {
  const ForceFit fit = fit_force(measured.run);
  return Findings(std::move(head), measured, fit).findings();
}

}  // namespace ohmdrag::rig

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/dimension.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/rig/series_pair.hpp"
#include "ohmdrag/rig/sweep_run.hpp"
#include "rig/sweep_tables.hpp"

namespace ohmdrag::rig {

namespace {

ShownIn shown_as(double si_value, Dimension dimension) {
  const std::string unit(engineering_unit(si_value, dimension));
  return {unit, find_unit(dimension, unit)->factor};
}

template <class Q>
RunFigure figure_of(std::string key, std::string name, Dimension dimension,
                    const std::optional<FactorEstimate<Q>>& told) {
  RunFigure figure{std::move(key), std::move(name), {}, {}};
  figure.shown = shown_as(told ? told->value.value() : 1.0, dimension);
  if (told)
    figure.told = RunFigure::Told{told->value.value(), told->value.value() * told->relative_error,
                                  std::pair{told->low().value(), told->high().value()}};
  return figure;
}

bool has_film(const SweepFit& fit) { return !fit.path.films.empty(); }

void add_figures(RunFindings& out, const SweepRun& run, const SweepRunFit& all) {
  const SweepFit& fit = all.fit;
  auto& figures = out.figures;
  const std::string of_one = run.contacts == SweepContacts::one ? "" : ", one contact (mean)";
  figures.push_back(
      figure_of("resistance_ohm", "resistance" + of_one, Dimension::resistance, fit.resistance));
  figures.push_back(figure_of("inductance_H", "inductance in series" + of_one,
                              Dimension::inductance, fit.inductance));
  if (has_film(fit)) {
    figures.push_back(figure_of("film_resistance_ohm", "resistance of the film" + of_one,
                                Dimension::resistance, fit.film_resistance));
    figures.push_back(figure_of("film_capacitance_F", "capacitance of the film" + of_one,
                                Dimension::capacitance, fit.film_capacitance));
    figures.push_back(figure_of("direct_resistance_ohm", "resistance to a direct current" + of_one,
                                Dimension::resistance, fit.direct_resistance));
  } else {
    figures.push_back(figure_of("capacitance_F", "capacitance across" + of_one,
                                Dimension::capacitance, fit.capacitance));
  }
  if (run.contacts == SweepContacts::pair && fit.direct_resistance) {
    const double mean = fit.direct_resistance->value.value();
    const double error =
        std::hypot(single_of_pair_uncertainty(), fit.direct_resistance->relative_error);
    RunFigure single{"either_contact_ohm",
                     "resistance of either contact of the pair",
                     shown_as(mean, Dimension::resistance),
                     {}};
    single.told = RunFigure::Told{mean, mean * error,
                                  std::pair{mean * std::max(0.0, 1.0 - 2.0 * error),
                                            mean * std::min(2.0, 1.0 + 2.0 * error)}};
    figures.push_back(std::move(single));
  }
  if (const auto corner = voltage::inductive_corner(fit.path); corner && fit.inductance)
    figures.push_back(plain_figure("inductive_corner_Hz", "where the inductance takes over",
                                   shown_as(corner->value(), Dimension::frequency),
                                   corner->value()));
  figures.push_back(plain_figure("residual_rms", "root mean square of the residuals", {"%", 0.01},
                                 fit.residual_rms));
}

void add_conditions(RunFindings& out, const SweepRun& run) {
  out.conditions.emplace_back(
      "Contacts", run.contacts == SweepContacts::one ? "one."
                  : run.contacts == SweepContacts::pair
                      ? "two in series over the shaft; figures are half of the sum, the mean of "
                        "both, whatever the share of each."
                      : "three, in series two at a time: A = (AB + CA - BC)/2 and so on; figures "
                        "are the mean of the three.");
  out.conditions.emplace_back("Shaft", run.running ? "turning." : "at rest.");
  if (run.level)
    out.conditions.emplace_back("Level",
                                print_quantity(run.level->value(), Dimension::voltage) + ".");
  const Fixture& fixture = run.fixture;
  std::string words = !fixture.load.empty()           ? "open, short and load taken off"
                      : !fixture.measured()           ? "not measured: leads and clips are in the "
                                                        "figures"
                      : fixture.open.empty()          ? "short taken off, open not measured"
                      : fixture.short_circuit.empty() ? "open taken off, short not measured"
                                                      : "open and short taken off";
  if (fixture.measured() && fixture.load.empty() && !fixture.open.empty())
    words += fixture.form == FixtureForm::symmetric ? " (symmetric fixture)" : " (leads first)";
  out.conditions.emplace_back("Fixture", words + '.');
}

void add_quality(RunFindings& out, const SweepRunFit& all) {
  const SweepFit& fit = all.fit;
  std::string follow = print_number(fit.lag_one, 2) + " from one frequency to the next";
  if (fit.widening > 1.0)
    follow +=
        fmt::format(", for which intervals are {} times as wide", print_number(fit.widening, 2));
  out.quality.emplace_back(
      "Residuals",
      fmt::format("{} % of the impedance, root mean square over {} points; {}; {} far off, which "
                  "count less and are not left out.",
                  print_number(100.0 * fit.residual_rms, 2), all.sweep.size(), follow,
                  fit.outliers.size()));
  if (all.repeats)
    out.quality.emplace_back(
        "Drift",
        fmt::format("{} % from first to last pass at {} frequencies (standard error {} %); "
                    "one point scatters by {} %.",
                    print_number(100.0 * all.repeats->mean_change, 2), all.repeats->frequencies,
                    print_number(100.0 * all.repeats->standard_error, 2),
                    print_number(100.0 * all.repeats->noise, 2)));
  out.quality.emplace_back(
      "Kramers-Kronig",
      fmt::format("{} relaxations miss {} % in the mean, {} from one frequency to the next: {}.",
                  all.check.elements, print_number(100.0 * all.check.rms, 2),
                  print_number(all.check.lag_one, 2),
                  all.check.contradicts ? "the two parts contradict each other"
                                        : "no contradiction beside noise"));
  if (all.level)
    out.quality.emplace_back(
        "Level", fmt::format("{} times the resistance at the higher level, {} to {} (95 %).",
                             print_number(all.level->ratio, 3),
                             print_number(all.level->ratio / all.level->factor, 3),
                             print_number(all.level->ratio * all.level->factor, 3)));
}

/// A narrow factor is written as a half width, which keeps its digits.
constexpr double narrow_factor = 1.1;

template <class Q>
FittedNumber number_of(const FactorEstimate<Q>& told, Dimension dimension) {
  FittedNumber number;
  number.value = told.value.value();
  number.shown = shown_as(number.value, dimension);
  if (told.factor < narrow_factor)
    number.spread = number.value * (told.factor - 1.0);
  else
    number.spread_factor = told.factor;
  return number;
}

/// With what one contact may differ from another by.
FittedNumber scattering(const FactorEstimate<Resistance>& told, const SweepRun& run,
                        const SweepRunFit& all) {
  FittedNumber number = number_of(told, Dimension::resistance);
  if (run.contacts == SweepContacts::pair)
    number.scatter = 2.0 * single_of_pair_uncertainty() * number.value;
  else if (all.scatter_factor && *all.scatter_factor < narrow_factor)
    number.scatter = number.value * (*all.scatter_factor - 1.0);
  else
    number.scatter_factor = all.scatter_factor;
  return number;
}

/// What a case can take. The variant is one of a list, which `id` names.
void add_entries(RunFindings& out, const SweepRun& run, const SweepRunFit& all) {
  const SweepFit& fit = all.fit;
  if (!fit.resistance && !fit.film_resistance) {
    out.no_entry = "the run tells no resistance";
    return;
  }
  if (run.variant.empty()) {
    out.no_entry =
        "the run names no variant of a case (variant = \"…\") whose grounding takes the figures";
    return;
  }
  const Sweep ordered = sorted(all.sweep);
  const std::string validity = fmt::format(
      "{} to {}, {}{}", print_quantity(ordered.front().frequency.value(), Dimension::frequency, 3),
      print_quantity(ordered.back().frequency.value(), Dimension::frequency, 3),
      run.running ? "running" : "AT REST, not running",
      run.level ? ", at " + print_quantity(run.level->value(), Dimension::voltage) : "");
  FittedEntry grounding{"variant.grounding", validity, {}};
  if (fit.resistance)
    grounding.lines.push_back({"resistance", scattering(*fit.resistance, run, all)});
  if (fit.capacitance)
    grounding.lines.push_back(
        {"parallel_capacitance", number_of(*fit.capacitance, Dimension::capacitance)});
  out.entries.push_back({"variant", {}, {{"id", run.variant}}, true});
  out.entries.push_back(std::move(grounding));
  if (fit.film_resistance && fit.film_capacitance)
    out.entries.push_back(
        {"variant.grounding.film",
         {},
         {{"resistance", scattering(*fit.film_resistance, run, all)},
          {"capacitance", number_of(*fit.film_capacitance, Dimension::capacitance)}}});
  if (fit.inductance && run.path_included)
    out.entries.push_back({"variant.grounding.path",
                           {},
                           {{"inductance", number_of(*fit.inductance, Dimension::inductance)}}});
  else if (fit.inductance)
    out.entry_comments.push_back(fmt::format(
        "The inductance, {}, is not carried over: the case has its own path to the housing "
        "(path_included = true where the loop on the rig was that path).",
        print_quantity(fit.inductance->value.value(), Dimension::inductance, 3)));
  if (run.contacts == SweepContacts::pair)
    out.entry_comments.emplace_back(
        "Scatter: the share of one contact of the pair, 0.3 to 0.7 (assumed); a case draws it for "
        "each "
        "key apart.");
  out.source_remark = run.running ? "running" : "at rest";
}

}  // namespace

RunFindings sweep_findings(RunFindings head, const SweepRun& run, const SweepRunFit& fit) {
  RunFindings out = std::move(head);
  add_conditions(out, run);
  out.model = fmt::format("Contact: {}", in_words(fit.fit.model));
  add_figures(out, run, fit);
  if (run.contacts == SweepContacts::three_pairs) out.tables.push_back(specimen_table(fit));
  out.tables.push_back(course_table(fit));
  out.tables.push_back(model_table(fit));
  out.tables.push_back(point_table(fit));
  add_quality(out, fit);
  out.notes = fit.notes;
  if (run.contacts == SweepContacts::pair)
    out.notes.push_back(fmt::format(
        "Two such contacts beside each other have half of the mean, or up to {} % less if their "
        "shares differ; the worse one of the pair has up to {} times the mean (share {} to {}, "
        "assumed). Three contacts measured in three pairs tell each.",
        print_number(100.0 * (1.0 - 2.0 * parallel_over_mean(most_share)), 2),
        print_number(2.0 * most_share, 2), print_number(least_share, 2),
        print_number(most_share, 2)));
  out.warnings = fit.warnings;
  out.cautions.emplace_back(
      "Shafts turn and machines with magnets make voltage whenever they do; capacitors of a link "
      "stay charged. Connect an instrument only when no voltage was verified, fix probes and "
      "brushes by mechanical means, never hold one on a turning shaft. For qualified persons; "
      "local "
      "safety rules come first.");
  add_entries(out, run, fit);
  return out;
}

}  // namespace ohmdrag::rig

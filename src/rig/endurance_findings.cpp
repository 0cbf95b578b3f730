#include "ohmdrag/rig/endurance_findings.hpp"

#include <fmt/format.h>

#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "rig/endurance_entry.hpp"
#include "rig/endurance_plausible.hpp"
#include "rig/endurance_tables.hpp"

namespace ohmdrag::rig {

namespace {

const ShownIn ohms{"ohm"}, hours{"h", 3600.0}, percent{"%", 0.01}, plain{};

std::string in_words(const Resistance& impedance) {
  return print_number(impedance.value(), 3) + " ohm";
}

RunFigure figure_of(std::string key, std::string name, ShownIn shown,
                    const std::optional<Interval>& told) {
  RunFigure figure{std::move(key), std::move(name), std::move(shown), {}, false};
  if (told) figure.told = {told->mid, {}, std::pair{told->low, told->high}};
  return figure;
}

std::optional<Interval> factors_of(const std::optional<Interval>& deviation) {
  if (!deviation) return std::nullopt;
  return Interval{factor_of(deviation->low), factor_of(deviation->mid), factor_of(deviation->high)};
}

/// The hours of the questions: those of the service, or the end of the run.
std::string asked_hours(const EnduranceRun& run, const EnduranceFit& fit) {
  return hours_in_words(run.service.value_or(fit.end).value());
}

void add_impedances(RunFindings& out, const EnduranceRun& run, const EnduranceFit& fit) {
  auto& figures = out.figures;
  const std::string begin = hours_in_words(fit.begin.value()), end = asked_hours(run, fit);
  figures.push_back(figure_of("impedance_at_begin_ohm",
                              fmt::format("impedance of the middle part at {}", begin), ohms,
                              fit.at_begin));
  const bool service = run.service.has_value();
  figures.push_back(figure_of(service ? "impedance_at_service_ohm" : "impedance_at_end_ohm",
                              fmt::format("the same at {}", end), ohms,
                              service ? fit.at_service : std::optional(fit.at_end)));
  figures.push_back(figure_of("growth_factor", fmt::format("growth from {} to {}", begin, end),
                              plain, service ? fit.growth_to_service : std::optional(fit.growth)));
  if (service)
    figures.push_back(figure_of("further_part_at_service_ohm",
                                fmt::format("impedance of a further part at {}", end), ohms,
                                fit.new_part_at_service));
  figures.push_back(figure_of("scatter_factor",
                              fmt::format("95 % of parts lie within ×/÷, at {}", begin), plain,
                              factors_of(fit.scatter_at_begin)));
  figures.push_back(figure_of("growth_scatter_factor", "of their growth, within ×/÷", plain,
                              factors_of(fit.scatter_of_growth)));
  figures.push_back(plain_figure("noise_factor", "95 % of readings within ×/÷ of their curve",
                                 plain, factor_of(fit.noise)));
}

void add_law(RunFindings& out, const EnduranceFit& fit) {
  if (fit.law == GrowthLaw::none) return;
  out.figures.push_back(figure_of("time_constant_s",
                                  fmt::format("time constant of the {} law", word_of(fit.law)),
                                  hours, fit.time_constant_s));
  if (fit.law == GrowthLaw::power)
    out.figures.push_back(
        figure_of("growth_exponent", "exponent of the power law", plain, fit.exponent));
}

void add_limit(RunFindings& out, const EnduranceRun& run, const EnduranceFit& fit) {
  if (!run.limit) return;
  const auto finite = [](const Interval& interval) {
    return std::isfinite(interval.mid) ? std::optional(interval) : std::nullopt;
  };
  const std::string limit = in_words(*run.limit), when = asked_hours(run, fit);
  out.figures.push_back(figure_of("crossing_middle_part_s",
                                  fmt::format("the middle part crosses {}", limit), hours,
                                  finite(fit.crossing->middle_s)));
  out.figures.push_back(
      figure_of("crossing_further_part_s", fmt::format("a further part crosses {}", limit), hours,
                run.specimens.size() > 1 ? finite(fit.crossing->new_part_s) : std::nullopt));
  if (!fit.share) return;
  out.figures.push_back(plain_figure("share_below_limit",
                                     fmt::format("parts below {} at {}, estimated", limit, when),
                                     percent, fit.share->estimated));
  const std::string confidence = print_number(100.0 * run.confidence, 3);
  out.figures.push_back(
      plain_figure("share_below_limit_at_least",
                   fmt::format("at least, with {} % confidence, normal law of ln Z", confidence),
                   percent, fit.share->at_least));
  if (fit.share->held)
    out.figures.push_back(
        plain_figure("share_below_limit_counted_at_least",
                     fmt::format("at least, with {} % confidence, {} of {} counted", confidence,
                                 *fit.share->held, run.specimens.size()),
                     percent, fit.share->counted_at_least));
  else
    out.notes.push_back(fmt::format(
        "Not all specimens were read at {}: how many are below the limit there cannot be counted.",
        when));
}

void add_quality(RunFindings& out, const EnduranceFit& fit) {
  std::size_t outliers = 0;
  for (const EnduranceSpecimenFit& specimen : fit.specimens) outliers += specimen.outliers;
  out.quality.emplace_back(
      "Residuals",
      fmt::format("standard deviation {} % within a specimen; {} from one reading to the next, so "
                  "{} readings count as {}; {} far off, which count less and are not left out.",
                  print_number(100.0 * fit.noise, 2), print_number(fit.lag_one, 2), fit.readings,
                  print_number(fit.effective_readings, 3), outliers));
  for (const EnduranceLaw& law : fit.laws)
    if (!law.left_out.empty())
      out.quality.emplace_back("Left out",
                               fmt::format("the {} law: {}.", word_of(law.law), law.left_out));
}

}  // namespace

RunFindings endurance_findings(RunFindings head, const EnduranceRun& run, const EnduranceFit& fit,
                               const EnduranceUse& use) {
  RunFindings out = std::move(head);
  out.conditions.emplace_back("Readings", fmt::format("{} of {}, up to {}.", fit.readings,
                                                      specimens_in_words(run.specimens.size()),
                                                      hours_in_words(fit.end.value())));
  out.model = fmt::format("Impedance over hours: {} law, a level and a growth of each specimen",
                          word_of(fit.law));
  out.warnings = fit.warnings;
  out.notes = fit.notes;
  add_impedances(out, run, fit);
  add_law(out, fit);
  add_limit(out, run, fit);
  if (fit.torque_fall_per_decade)
    out.figures.push_back(figure_of("torque_fall_per_decade",
                                    "torque lost a decade of hours, over that of the begin",
                                    percent, fit.torque_fall_per_decade));
  add_quality(out, fit);
  add_tables(out, run, fit, use.share);
  if (use.in_series > 1)
    out.notes.push_back(fmt::format(
        "Each reading is {} contacts in series, divided by {}: figures are those of their mean, "
        "which differs less from pair to pair than one contact from the next. The scatter of the "
        "entry is that of single contacts, if those on one shaft are drawn apart.",
        use.in_series, use.in_series));
  out.cautions.emplace_back(
      "A shaft turns through the whole run, contacts get hot, and a rig may run unattended: keep "
      "it guarded, touch leads at standstill only, have qualified persons do it. Local safety "
      "rules come first.");
  add_entries(out, run, fit, use);
  return out;
}

}  // namespace ohmdrag::rig

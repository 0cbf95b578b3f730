#include "ohmdrag/rig/shaft_voltage_findings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
const ShownIn volts{"V"}, megahertz{"MHz", 1e6}, per_microsecond{"1/us", 1e6},
    picofarads{"pF", 1e-12}, nanoseconds{"ns", 1e-9}, microseconds{"us", 1e-6}, per_second{"1/s"},
    per_cent{"%", 0.01};

RunFigure figure_of(std::string key, std::string name, ShownIn shown,
                    const std::optional<CountInterval>& count) {
  RunFigure figure{std::move(key), std::move(name), std::move(shown), {}, false};
  if (count) figure.told = {{count->value, {}, std::pair{count->low, count->high}}};
  return figure;
}

/// A figure by its interval and the standard error of its logarithm; `gain`, the 95 % half width of
/// what the instrument may be off, comes on top.
RunFigure::Told of_interval(const Interval& interval, double error, double gain) {
  const auto widened = [&](double end) {
    return interval.mid * std::exp(std::copysign(std::hypot(std::log(end / interval.mid), gain),
                                                 end - interval.mid));
  };
  return {interval.mid, interval.mid * std::hypot(error, gain / normal_95),
          std::pair{widened(interval.low), widened(interval.high)}};
}

/// Median time from the begin of an edge to a collapse.
std::optional<double> dwell_of(const RecordView& view) {
  std::vector<double> dwells;
  for (const Collapse& collapse : view.collapses)
    if (std::isfinite(collapse.dwell.value())) dwells.push_back(collapse.dwell.value());
  if (dwells.empty()) return std::nullopt;
  const auto middle = dwells.begin() + static_cast<std::ptrdiff_t>(dwells.size() / 2);
  std::nth_element(dwells.begin(), middle, dwells.end());
  return *middle;
}

void add_coupling(RunFindings& out, const ShaftVoltageFit& fit) {
  auto& figures = out.figures;
  figures.push_back(
      run_figure("coupling_ratio", "coupling ratio, with the probe", {}, fit.coupling));
  if (fit.coupling_free)
    figures.push_back(run_figure("coupling_ratio_without_probe",
                                 "coupling ratio, without the probe", {}, fit.coupling_free));
  if (fit.winding_rotor)
    figures.push_back(
        run_figure("winding_rotor_F", "winding to rotor", picofarads, fit.winding_rotor));
  std::optional<Estimate<Frequency>> frequency, damping;
  std::optional<Estimate<double>> quality, share;
  if (fit.ringing) {
    frequency = fit.ringing->frequency;
    damping = fit.ringing->damping;
    quality = fit.ringing->quality;
    share = fit.ringing->share;
  }
  figures.push_back(run_figure("ringing_frequency_Hz", "ringing", megahertz, frequency));
  figures.push_back(run_figure("ringing_damping_per_s", "its damping, of the amplitude",
                               per_microsecond, damping));
  figures.push_back(run_figure("ringing_quality", "its quality, pi f/damping", {}, quality));
  figures.push_back(run_figure("ringing_share_of_step", "its amplitude over the step", {}, share));
  if (fit.open.rise)
    figures.push_back(plain_figure("rise_s", "rise of an edge, 10 to 90 %, median", nanoseconds,
                                   fit.open.rise->value()));
}

void add_films(RunFindings& out, const ShaftVoltageRun& run, const ShaftVoltageFit& fit) {
  auto& figures = out.figures;
  const BreakdownFit* law = fit.breakdown();
  RunFigure median{"breakdown_median_V", "breakdown voltage, median", volts, {}, false};
  RunFigure low{"breakdown_5_percent_V", "breakdown voltage, 5 % of the edges", volts, {}, false};
  RunFigure spread{"breakdown_spread_of_ln_V", "its spread of ln V (Weibull: 1/m)", {}, {}, false};
  if (law) {
    median.name += fmt::format(" ({})", to_word(law->law));
    median.told =
        of_interval(law->median_V, law->standard_error_of_ln_quantile(0.5), run.gain_uncertainty);
    low.told = of_interval(law->at_5_percent_V, law->standard_error_of_ln_quantile(0.05),
                           run.gain_uncertainty);
    spread.told = of_interval(law->spread_of_ln_V, std::sqrt(law->variance_ln_spread), 0.0);
  }
  figures.insert(figures.end(), {std::move(median), std::move(low), std::move(spread)});
  if (fit.held) {
    RunFigure held{"breakdown_lower_bound_V", "breakdown voltage, lower bound", volts, {}, false};
    held.told = {{fit.held->voltage.value(), {}, std::pair{fit.held->voltage.value(), infinite}}};
    figures.push_back(std::move(held));
  }
  figures.push_back(
      figure_of("collapse_rate_per_s", "collapses a second", per_second, fit.open.rate_per_s));
  figures.push_back(figure_of("struck_share", "share of the straining edges with a collapse",
                              per_cent, fit.open.struck_share));
  if (const auto dwell = dwell_of(fit.open))
    figures.push_back(
        plain_figure("dwell_median_s", "from edge to collapse, median", microseconds, *dwell));
}

void add_laws(RunFindings& out, const ShaftVoltageFit& fit) {
  RunTable table;
  table.key = "breakdown_laws";
  table.title = "Laws of the breakdown voltage";
  table.columns = {{"law", "law"},
                   {"median_V", "median V", volts},
                   {"at_5_percent_V", "5 % V", volts},
                   {"spread_of_ln_V", "spread of ln V"},
                   {"aicc", "AICc"},
                   {"broke", "broke"},
                   {"edges", "edges"}};
  for (const auto* law : {&fit.weibull, &fit.log_normal}) {
    if (!*law || !(*law)->told) continue;
    table.rows.push_back({to_word((*law)->law), (*law)->median_V, (*law)->at_5_percent_V,
                          (*law)->spread_of_ln_V, (*law)->aicc(),
                          static_cast<double>((*law)->broke), static_cast<double>((*law)->trials)});
  }
  if (!table.rows.empty()) out.tables.push_back(std::move(table));
}

std::vector<RunCell> row_of(const std::string& name, const RecordView& view) {
  const auto maybe = [&](bool told, double value) { return told ? RunCell(value) : RunCell(); };
  const bool edges = view.edges > 0;
  RunCell rate;
  if (view.rate_per_s)
    rate = Interval{view.rate_per_s->low, view.rate_per_s->value, view.rate_per_s->high};
  return {name,
          view.largest.value(),
          view.rms.value(),
          maybe(edges, view.peak.value()),
          maybe(edges, view.held.value()),
          maybe(edges, view.step.value()),
          static_cast<double>(view.edges),
          maybe(view.collapses_judged, static_cast<double>(view.collapses.size())),
          rate,
          view.duration.value()};
}

void add_records(RunFindings& out, const ShaftVoltageFit& fit) {
  RunTable table;
  table.key = "records";
  table.title = fit.grounded ? "Without and with the grounding contact" : "The record";
  table.columns = {{"record", "record"},
                   {"largest_V", "largest V", volts},
                   {"rms_V", "rms V", volts},
                   {"peak_after_edge_V", "after an edge V", volts},
                   {"held_V", "held V", volts},
                   {"step_V", "step V", volts},
                   {"edges", "edges"},
                   {"collapses", "collapses"},
                   {"collapses_per_s", "a second", per_second},
                   {"duration_s", "s", {"s"}}};
  table.rows.push_back(row_of("open", fit.open));
  if (fit.grounded) table.rows.push_back(row_of("grounded", *fit.grounded));
  out.tables.push_back(std::move(table));

  RunTable collapses;
  collapses.key = "collapses";
  collapses.title = "Collapses";
  collapses.only_in_document = true;
  collapses.columns = {{"at_s", "at"},
                       {"voltage_V", "voltage"},
                       {"stood_V", "stood"},
                       {"dwell_s", "dwell"},
                       {"evidence", "evidence"}};
  for (const Collapse& collapse : fit.open.collapses)
    collapses.rows.push_back(
        {collapse.at.value(), collapse.voltage.value(), collapse.stood.value(),
         std::isfinite(collapse.dwell.value()) ? RunCell(collapse.dwell.value()) : RunCell(),
         collapse.evidence == Evidence::broke_at ? "in the rise" : "later"});
  out.tables.push_back(std::move(collapses));
}

void add_quality(RunFindings& out, const ShaftVoltageFit& fit) {
  const RecordView& open = fit.open;
  std::string record = fmt::format("{} samples in {} {}, one in {}; noise {} V standard deviation.",
                                   open.samples, open.sweeps, open.sweeps == 1 ? "sweep" : "sweeps",
                                   print_quantity(open.interval.value(), Dimension::time),
                                   print_number(open.noise.value(), 2));
  if (open.collapses_judged)
    record += fmt::format(" A collapse is a sudden fall by {} V or more to a quarter or less.",
                          print_number(open.smallest_collapse.value(), 2));
  out.quality.emplace_back("Record", std::move(record));
  if (fit.coupling)
    out.quality.emplace_back("Coupling",
                             fmt::format("{} edges far off, which count less and are not left out.",
                                         fit.coupling_outliers));
  if (fit.ringing)
    out.quality.emplace_back("Ringing", fmt::format("one damped oscillation through what follows "
                                                    "{} edges.",
                                                    fit.ringing->edges));
  if (const BreakdownFit* law = fit.breakdown())
    out.quality.emplace_back(
        "Films", fmt::format("{} of {} straining edges broke; the others count as having held what "
                             "stood.",
                             law->broke, law->trials));
}

EntryLine line_of(const std::string& key, double value, double half_width, const ShownIn& shown) {
  FittedNumber number;
  number.value = value;
  number.shown = shown;
  number.spread = half_width;
  return {key, number};
}

void add_entries(RunFindings& out, const std::string& at, const ShaftVoltageFit& fit) {
  if (fit.winding_rotor)
    out.entries.push_back({"coupling",
                           at,
                           {line_of("winding_rotor", fit.winding_rotor->value.value(),
                                    fit.winding_rotor->half_width.value(), picofarads)}});
  if (fit.ringing)
    out.entries.push_back(
        {"inverter.ringing",
         at,
         {line_of("frequency", fit.ringing->frequency.value.value(),
                  fit.ringing->frequency.half_width.value(), megahertz),
          line_of("share_of_step", fit.ringing->share.value, fit.ringing->share.half_width, {}),
          line_of("quality", fit.ringing->quality.value, fit.ringing->quality.half_width, {})}});
  if (const BreakdownFit* law = fit.breakdown())
    out.entry_comments.push_back(fmt::format(
        "Breakdown voltage of these films in this run: median {} V, {} V at 5 % of the edges. A "
        "case counts thresholds of bearings from their films (discharge.breakdown_field) and has "
        "no key for them; discharge.fixed_threshold is used where no film can be counted.",
        print_number(law->quantile(0.5).value(), 3), print_number(law->quantile(0.05).value(), 3)));
  if (fit.coupling && !fit.winding_rotor)
    out.entry_comments.push_back(fmt::format(
        "The coupling ratio, {}, is winding_rotor over all capacitance of the shaft: with "
        "total_capacitance and probe_capacitance in the run, winding_rotor is written here.",
        print_number(fit.coupling->value, 4)));
  if (out.entries.empty())
    out.no_entry =
        "the run tells neither ringing nor, without total_capacitance and probe_capacitance, the "
        "capacitance from winding to rotor; a case has no key for coupling ratio and breakdown "
        "voltages";
}

}  // namespace

RunFindings shaft_voltage_findings(RunFindings head, const std::string& at,
                                   const ShaftVoltageRun& run, const ShaftVoltageFit& fit) {
  RunFindings out = std::move(head);
  out.model =
      run.open.common_mode.empty()
          ? "Shaft behind a capacitive divider, its steps in units of the link; a film of "
            "random strength at each edge"
          : "Shaft behind a capacitive divider of the common mode; a film of random strength "
            "at each edge";
  add_coupling(out, fit);
  add_films(out, run, fit);
  add_records(out, fit);
  add_laws(out, fit);
  add_quality(out, fit);
  out.notes = fit.notes;
  out.warnings = fit.warnings;
  out.cautions = {
      "High voltage and rotating shafts can kill. The winding and its common mode stand at the "
      "link "
      "voltage, a probe at a turning shaft can be caught: for qualified, authorised persons, with "
      "differential or insulated probes; local safety rules and codes come first. Capacitors of "
      "the "
      "link stay charged after switch-off.",
      "A reading of the shaft near zero does not make it safe to touch: the contact can open at "
      "any "
      "time."};
  add_entries(out, at, fit);
  out.source_remark = at;
  return out;
}

}  // namespace ohmdrag::rig

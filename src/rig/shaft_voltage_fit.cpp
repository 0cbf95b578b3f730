#include "ohmdrag/rig/shaft_voltage_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "rig/record_analysis.hpp"

namespace ohmdrag::rig {

namespace {

/// Rise time of an instrument times its bandwidth: ln(9)/(2 pi) of a single pole, the usual 0.35.
constexpr double rise_times_bandwidth = 0.35;
/// Common practice, no source: a rise nearer to the instrument's own is the instrument's; fewer
/// samples an edge do not show it; a probe that adds more than a hundredth of the shaft's
/// capacitance shifts the ratio; fewer collapses tell a distribution badly.
constexpr double own_rise = 1.5, samples_an_edge = 4.0, probe_share = 0.01;
constexpr std::size_t good_collapses = 30;
/// Shorter than so many edges, the record may have met a lucky moment; common practice, no source.
constexpr std::size_t good_edges = 100;

std::string volts(double value) { return print_number(value, 3) + " V"; }

class Fitter {
 public:
  explicit Fitter(const ShaftVoltageRun& run) : run_(run) {}

  ShaftVoltageFit fit() {
    require_sound_keys();
    const RecordAnalysis open =
        analysis_of(signal_of(run_.open, "record", out_.warnings), "record", false);
    require_senses(open);
    out_.open = view_of(open);
    fit_coupling(open);
    out_.ringing = ringing_of(open, out_.notes);
    fit_films();
    warn_of_instrument(open);
    if (run_.grounded) {
      const std::string name = "grounded record";
      out_.grounded =
          view_of(analysis_of(signal_of(*run_.grounded, name, out_.warnings), name, true));
      compare();
    }
    return std::move(out_);
  }

 private:
  void require_sound_keys() const {
    if (run_.dc_link && !(run_.dc_link->value() > 0.0))
      throw std::invalid_argument("the link voltage must be positive");
    if (run_.legs != 1 && run_.legs != 3)
      throw std::invalid_argument("legs at the smallest edge: 1 (a third of the link) or 3 (all)");
  }

  void require_senses(const RecordAnalysis& open) const {
    if (!open.signal.with_common()) return;
    const double noise_of_ratio =
        8.0 * open.signal.shaft_noise_V / (0.3 * open.signal.common_range_V);
    if (open.ratio > 1.0)
      throw std::invalid_argument(fmt::format(
          "record: the shaft steps {} times as far as the common mode, which drives it through a "
          "divider: are the columns swapped, is a probe's factor missing?",
          print_number(open.ratio, 2)));
    if (open.ratio < -noise_of_ratio)
      throw std::invalid_argument(
          "record: the shaft steps against the common mode: one of both channels is inverted, or "
          "tip and ground lead of a probe are swapped");
    if (run_.dc_link && open.signal.common_range_V > 2.0 * run_.dc_link->value())
      throw std::invalid_argument(fmt::format(
          "record: the common mode spans {}, more than twice the link of {}: is the unit or a "
          "probe's factor right?",
          volts(open.signal.common_range_V), volts(run_.dc_link->value())));
  }

  void fit_coupling(const RecordAnalysis& open) {
    out_.coupling = coupling_of(open, run_, out_.coupling_outliers, out_.notes);
    if (!out_.coupling) return;
    if (!run_.probe_capacitance || !run_.total_capacitance) {
      out_.notes.emplace_back(
          "The probe's capacitance lies beside the shaft's and lowers the ratio: state "
          "probe_capacitance and total_capacitance, and the ratio without it is told.");
      return;
    }
    const double probe = run_.probe_capacitance->value();
    const double total = run_.total_capacitance->value.value();
    const double total_half = run_.total_capacitance->half_width.value();
    const Estimate<double>& k = *out_.coupling;
    // k = C_wr/(C_T + C_p): free C_wr/C_T, and C_wr itself; both follow C_T.
    const double factor = 1.0 + probe / total, of_total = probe / (total * total);
    const auto both = [](double a, double b) { return std::hypot(a, b); };
    out_.coupling_free = {
        k.value * factor,
        both(k.standard_error * factor, k.value * of_total * total_half / normal_95),
        both(k.half_width * factor, k.value * of_total * total_half)};
    out_.winding_rotor = {
        Capacitance::from_value(k.value * (total + probe)),
        Capacitance::from_value(
            both(k.standard_error * (total + probe), k.value * total_half / normal_95)),
        Capacitance::from_value(both(k.half_width * (total + probe), k.value * total_half))};
    if (probe > probe_share * total)
      out_.warnings.push_back(fmt::format(
          "The probe adds {} % to the capacitance of the shaft, more than one per cent: it lowers "
          "the voltage that it measures, and collapses are that much rarer. Use one of less "
          "capacitance.",
          print_number(100.0 * probe / total, 2)));
  }

  void fit_films() {
    const RecordView& open = out_.open;
    if (!open.collapses_judged) {
      out_.notes.emplace_back(
          "Collapses are not told: an edge takes so few samples that a collapse looks like one. "
          "Sample faster, or record the common mode beside the shaft.");
      return;
    }
    if (open.idle_edges > 0)
      out_.notes.push_back(fmt::format(
          "At {} of {} edges the shaft stays where it is although the common mode steps: its "
          "bearings conduct at times (mixed or boundary lubrication). These edges try no film and "
          "are left out of the breakdown voltages.",
          open.idle_edges, open.edges));
    if (open.collapses.empty()) {
      if (out_.coupling) note_what_was_held();
      return;
    }
    out_.weibull = fit_breakdown(open.trials, BreakdownLaw::weibull);
    out_.log_normal = fit_breakdown(open.trials, BreakdownLaw::log_normal);
    note_breakdown();
    if (open.edges < good_edges || open.collapses.size() < good_collapses)
      out_.warnings.push_back(fmt::format(
          "The record is short: {} edges, {} collapses. Speed, temperature and the balls that "
          "happen to carry make the films of a moment; record {} collapses or more, over many "
          "turns of the shaft.",
          open.edges, open.collapses.size(), good_collapses));
  }

  void note_what_was_held() {
    std::vector<double> stood;
    for (const Trial& trial : out_.open.trials) stood.push_back(trial.voltage.value());
    if (stood.empty()) return;
    std::ranges::sort(stood, std::greater<>());
    // So many successes show a share of 95 % at 95 % confidence.
    constexpr std::size_t success_run = 59;
    const std::size_t n = std::min(stood.size(), success_run);
    out_.held = {Voltage::from_value(stood[n - 1]), std::pow(0.05, 1.0 / static_cast<double>(n)),
                 n};
    out_.notes.push_back(fmt::format(
        "No collapse in {} s and {} edges that strain a film, up to {}: a lower bound of the "
        "breakdown voltage, never its value. {:.0f} % of the edges or more hold {} (95 % "
        "confidence, {} edges); the rate is below {} a second (3 over the time). A higher link "
        "voltage, warmer oil or a longer record may show a collapse; one of less than {} would not "
        "have been seen.",
        print_number(out_.open.duration.value(), 3), stood.size(), volts(stood.front()),
        100.0 * out_.held->share, volts(stood[n - 1]), n,
        print_number(out_.open.rate_per_s->high, 2), volts(out_.open.smallest_collapse.value())));
  }

  void note_breakdown() {
    const BreakdownFit* best = out_.breakdown();
    if (!best) {
      std::size_t broke = 0;
      for (const Trial& trial : out_.open.trials)
        if (trial.evidence != Evidence::held) ++broke;
      out_.notes.push_back(
          broke < fewest_breakdowns
              ? fmt::format(
                    "The distribution of the breakdown voltage is not told by {} edges with "
                    "a collapse; it wants {} or more. Record longer.",
                    broke, fewest_breakdowns)
              : std::string("The distribution of the breakdown voltage is not told: all films were "
                            "strained by about one voltage and broke on a plateau. Record at "
                            "several link voltages."));
      return;
    }
    const double apart = std::abs(out_.weibull->aicc() - out_.log_normal->aicc());
    constexpr double told_apart = 2.0;  // common practice with Akaike's criterion
    if (out_.weibull->told && out_.log_normal->told && apart < told_apart)
      out_.notes.push_back(
          fmt::format("The record does not tell a Weibull from a log-normal distribution (AICc {} "
                      "apart): do not read far below the smallest collapse.",
                      print_number(apart, 2)));
    double highest = 0.0;
    for (const Trial& trial : out_.open.trials) highest = std::max(highest, trial.voltage.value());
    if (best->quantile(0.5).value() > highest)
      out_.notes.push_back(fmt::format(
          "The median of the breakdown voltage lies above {}, the highest that any film stood: it "
          "is extrapolated. The 5 % point is told better.",
          volts(highest)));
    constexpr double seldom = 0.02;
    if (best->quantile(seldom).value() < out_.open.smallest_collapse.value())
      out_.warnings.push_back(fmt::format(
          "Collapses of less than {} are not seen in the noise and range of this record, and by "
          "the fit more than {:.0f} % are smaller: the distribution reads too high. Use a finer "
          "range.",
          volts(out_.open.smallest_collapse.value()), 100.0 * seldom));
  }

  void warn_of_instrument(const RecordAnalysis& open) {
    if (open.edges.empty()) return;
    const double samples = open.rise_s / open.signal.dt_s;
    if (samples < samples_an_edge)
      out_.warnings.push_back(fmt::format(
          "An edge takes {} samples from 10 to 90 %; four show it. Rise, ringing and the voltage "
          "of a collapse in the rise are uncertain: sample faster.",
          print_number(samples, 2)));
    if (run_.bandwidth) {
      const double own_s = rise_times_bandwidth / run_.bandwidth->value();
      if (open.rise_s < own_rise * own_s)
        out_.warnings.push_back(fmt::format(
            "The measured rise of {} is about what the instrument itself takes, 0.35 over its "
            "bandwidth, {}: the source may be faster, and its ringing higher.",
            print_quantity(open.rise_s, Dimension::time), print_quantity(own_s, Dimension::time)));
    } else {
      out_.notes.emplace_back(
          "Whether the instrument is fast enough is not told: state the bandwidth of probe and "
          "instrument together.");
    }
    warn_of_offset(open);
  }

  void warn_of_offset(const RecordAnalysis& open) {
    std::vector<double> left;
    for (const Fall& fall : open.falls) left.push_back(open.signal.shaft_V[fall.bottom]);
    constexpr std::size_t enough = 8;
    if (left.size() < enough) return;
    const double offset = median_of(left);
    constexpr double visible = 0.02;
    if (std::abs(offset) >
        std::max(visible * open.signal.shaft_range_V, 3.0 * open.signal.shaft_noise_V))
      out_.warnings.push_back(fmt::format(
          "After a collapse the shaft stands at {}, not at zero: an offset of probe or channel, or "
          "what an arc leaves. Breakdown voltages are off by as much, one sign up, the other down.",
          volts(offset)));
  }

  void compare() {
    const RecordView& with = *out_.grounded;
    if (out_.open.collapses.empty()) return;
    double lowest = out_.open.collapses.front().stood.value();
    for (const Collapse& collapse : out_.open.collapses)
      lowest = std::min(lowest, collapse.stood.value());
    out_.notes.push_back(fmt::format(
        "With the contact the shaft reaches {} at most; the lowest collapse without it was at {}. "
        "{} Falls of the voltage in the grounded record are the contact's own and are not counted.",
        volts(with.largest.value()), volts(lowest),
        with.largest.value() < lowest
            ? "None of the collapses seen would happen, for as long as the contact stays as it is."
            : "Collapses at edges are not excluded."));
  }

  const ShaftVoltageRun& run_;
  ShaftVoltageFit out_;
};

}  // namespace

const BreakdownFit* ShaftVoltageFit::breakdown() const {
  const bool weibull_told = weibull && weibull->told, normal_told = log_normal && log_normal->told;
  if (weibull_told && normal_told)
    return weibull->log_likelihood >= log_normal->log_likelihood ? &*weibull : &*log_normal;
  if (weibull_told) return &*weibull;
  return normal_told ? &*log_normal : nullptr;
}

ShaftVoltageFit fit_shaft_voltage(const ShaftVoltageRun& run) { return Fitter(run).fit(); }

}  // namespace ohmdrag::rig

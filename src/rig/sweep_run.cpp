#include "ohmdrag/rig/sweep_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/numerics/least_squares.hpp"
#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/rig/series_pair.hpp"

namespace ohmdrag::rig {

namespace {

/// A reflection that is off by a thousandth and moves the impedance by more than this is said
/// aloud; common practice, no source.
constexpr double far_from_reference = 0.01;

class RunFitter {
 public:
  explicit RunFitter(const SweepRun& run) : run_(run) {}

  SweepRunFit fit() {
    std::vector<Sweep> sweeps;
    for (const Sweep& measured : run_.sweeps) sweeps.push_back(without_fixture(measured));
    out_.repeats = repeats_of(sweeps.front());
    out_.sweep = mean_of_one(sweeps);
    out_.fit = fit_sweep(out_.sweep);
    out_.check = kramers_kronig_check(out_.sweep, out_.fit.path.across);
    if (run_.contacts == SweepContacts::three_pairs) fit_specimens(sweeps);
    if (run_.other)
      compare_levels();
    else
      out_.notes.emplace_back(
          "Measured at one level: whether a film breaks through (fritting) at another is not told. "
          "Sweep once more at the level of the shaft voltage.");
    add_drift();
    add_changed_leads();
    add_standard();
    judge_reference();
    judge_running();
    out_.notes.insert(out_.notes.begin(), out_.fit.notes.begin(), out_.fit.notes.end());
    out_.warnings.insert(out_.warnings.begin(), out_.fit.warnings.begin(), out_.fit.warnings.end());
    return std::move(out_);
  }

 private:
  Sweep without_fixture(const Sweep& measured) {
    Compensated specimen = compensated(measured, run_.fixture);
    // Once: of further sweeps they would say the same with other numbers.
    if (out_.warnings.empty()) out_.warnings = std::move(specimen.warnings);
    return std::move(specimen.sweep);
  }

  Sweep mean_of_one(std::vector<Sweep>& sweeps) const {
    if (run_.contacts == SweepContacts::one) return sweeps.front();
    if (run_.contacts == SweepContacts::pair) return share_of_series(sweeps.front(), 2);
    for (Sweep& sweep : sweeps) sweep = sorted(std::move(sweep));
    const auto single = resolved_pairs(sweeps[0], sweeps[1], sweeps[2]);
    Sweep mean = single[0];
    for (std::size_t i = 0; i < mean.size(); ++i)
      mean[i].ohm = (single[0][i].ohm + single[1][i].ohm + single[2][i].ohm) / 3.0;
    return mean;
  }

  void fit_specimens(const std::vector<Sweep>& sweeps) {
    const auto single = resolved_pairs(sweeps[0], sweeps[1], sweeps[2]);
    std::vector<double> logarithms;
    for (std::size_t k = 0; k < single.size(); ++k) {
      try {
        out_.specimens.push_back(fit_sweep(single[k], out_.fit.model));
      } catch (const std::invalid_argument& error) {
        throw std::invalid_argument(fmt::format(
            "contact {} out of the three pairs: {}. Each contact must be the same in both of its "
            "pairs: not run in between, and read at one place of the shaft",
            std::string("ABC")[k], error.what()));
      }
      if (const auto& told = out_.specimens.back().direct_resistance)
        logarithms.push_back(std::log(told->value.value()));
    }
    if (logarithms.size() < single.size()) return;
    const auto n = static_cast<double>(logarithms.size());
    double mean = 0.0, squares = 0.0;
    for (const double value : logarithms) mean += value / n;
    for (const double value : logarithms) squares += (value - mean) * (value - mean);
    const double deviation = std::sqrt(squares / (n - 1.0));
    out_.scatter_factor = std::exp(normal_95 * deviation);
    // Three contacts know the mean of all contacts only so well.
    widen_resistances(deviation / std::sqrt(n), numerics::student_95(n - 1.0));
    out_.notes.push_back(fmt::format(
        "Three contacts tell the scatter from part to part roughly: it may be {} times as large. "
        "The interval of the resistance is that of the mean of all such contacts.",
        print_number(scatter_may_be, 2)));
  }

  void compare_levels() {
    Sweep other = without_fixture(run_.other->sweep);
    if (run_.contacts != SweepContacts::one) other = share_of_series(std::move(other), 2);
    Sweep here = out_.sweep;
    if (run_.contacts == SweepContacts::three_pairs) {
      here = share_of_series(without_fixture(run_.sweeps.front()), 2);
    }
    const SweepFit at_other = fit_sweep(other, out_.fit.model),
                   at_here = fit_sweep(here, out_.fit.model);
    if (!at_other.direct_resistance || !at_here.direct_resistance) return;
    const bool other_is_higher = run_.level && run_.other->level > *run_.level;
    const double ratio =
        (at_other.direct_resistance->value / at_here.direct_resistance->value).value();
    LevelChange change;
    change.ratio = other_is_higher ? ratio : 1.0 / ratio;
    change.factor = std::exp(std::hypot(std::log(at_other.direct_resistance->factor),
                                        std::log(at_here.direct_resistance->factor)));
    change.depends =
        std::abs(std::log(ratio)) > std::max(least_level_change, std::log(change.factor));
    out_.level = change;
    if (!change.depends) return;
    out_.warnings.push_back(fmt::format(
        "The resistance depends on the level: at the higher one it is {} times that at the lower. "
        "{} The figures hold at {} alone: shaft voltage may see another resistance.",
        print_number(change.ratio, 3),
        change.ratio < 1.0 ? "A film breaks through (fritting) there."
                           : "Current seems to heat the contact.",
        run_.level ? print_quantity(run_.level->value(), Dimension::voltage) : "this level"));
  }

  /// A drift between passes: anything between both ends is as likely.
  void add_drift() {
    if (!out_.repeats) {
      out_.notes.emplace_back(
          "Every frequency was measured once: a drift shows in the check of Kramers and Kronig "
          "alone. Sweep up and down again.");
    } else if (out_.repeats->drifts) {
      const double change = out_.repeats->mean_change;
      widen_resistances(std::abs(change) / (2.0 * std::numbers::sqrt3), normal_95);
      out_.warnings.push_back(fmt::format(
          "The impedance drifts: from the first pass to the last it {} by {} % in the mean. The "
          "interval of the resistances is wider for it. Let the contact run in, or sweep faster.",
          change > 0.0 ? "rises" : "falls", print_number(100.0 * std::abs(std::expm1(change)), 2)));
    }
    if (out_.check.contradicts)
      out_.warnings.push_back(fmt::format(
          "Real and imaginary part do not belong together ({} % in the mean, most at {}): the "
          "contact drifted during the sweep, it depends on the level, or the phase is off. A "
          "steady linear contact obeys the relations of Kramers and Kronig.",
          print_number(100.0 * out_.check.rms, 2),
          print_quantity(out_.check.worst_at.value(), Dimension::frequency, 3)));
  }

  template <class Q>
  static void widen(std::optional<FactorEstimate<Q>>& estimate, double error, double coverage) {
    if (!estimate) return;
    estimate->relative_error = std::hypot(estimate->relative_error, error);
    estimate->factor = std::exp(std::hypot(std::log(estimate->factor), coverage * error));
  }
  void widen_resistances(double error, double coverage) {
    widen(out_.fit.resistance, error, coverage);
    widen(out_.fit.film_resistance, error, coverage);
    widen(out_.fit.direct_resistance, error, coverage);
  }

  void add_changed_leads() {
    if (run_.fixture.short_circuit.empty() && !run_.changed_leads) {
      if (out_.fit.inductance)
        out_.notes.emplace_back(
            "The inductance is that of the contact with leads and fixture: no short was measured. "
            "Replace the contact by a short piece of metal and log that too.");
      return;
    }
    const Inductance changed =
        run_.changed_leads.value_or(Inductance::from_value(changed_leads_nH * 1e-9));
    const double contacts = run_.contacts == SweepContacts::one ? 1.0 : 2.0;
    if (out_.fit.inductance) {
      const double share = (changed / contacts / out_.fit.inductance->value).value();
      widen(out_.fit.inductance, share / normal_95, normal_95);
    }
    const double top_Hz = sorted(out_.sweep).back().frequency.value();
    out_.notes.push_back(fmt::format(
        "Leads and clips lie anew at every change: {} more or less (95 %{}) is {} at {}. The "
        "interval of the inductance holds it.",
        print_quantity(changed.value(), Dimension::inductance, 2),
        run_.changed_leads ? "" : ", common practice, no source",
        print_quantity(2.0 * std::numbers::pi * top_Hz * changed.value(), Dimension::resistance, 2),
        print_quantity(top_Hz, Dimension::frequency, 3)));
  }

  /// All impedances go with the load that the instrument was compared to.
  void add_standard() {
    widen_resistances(run_.standard_error, normal_95);
    widen(out_.fit.inductance, run_.standard_error, normal_95);
    widen(out_.fit.capacitance, run_.standard_error, normal_95);
    widen(out_.fit.film_capacitance, run_.standard_error, normal_95);
  }

  void judge_reference() {
    if (!run_.reference) return;
    double worst = 0.0;
    Frequency at;
    for (const Sweep& sweep : run_.sweeps)
      for (const SweepPoint& point : sweep)
        if (const double error = error_of_reflection(point.ohm, *run_.reference); error > worst) {
          worst = error;
          at = point.frequency;
        }
    if (worst < far_from_reference) return;
    out_.warnings.push_back(fmt::format(
        "The impedance is far from the {} of the instrument: an error of a thousandth in the "
        "reflection is {} % of it at {}. Instruments that measure voltage and current do better "
        "there.",
        print_quantity(run_.reference->value(), Dimension::resistance),
        print_number(100.0 * worst, 2), print_quantity(at.value(), Dimension::frequency, 3)));
  }

  void judge_running() {
    if (!run_.running)
      out_.warnings.emplace_back(
          "Measured at rest: a turning contact has another resistance (speed, oil film, fresh "
          "surface), and a resistance that a case states is that of the running contact. Measure "
          "again while the shaft turns.");
  }

  static constexpr double scatter_may_be = 6.3;  // chi-square of two degrees: sqrt(2/0.0506)

  const SweepRun& run_;
  SweepRunFit out_;
};

}  // namespace

SweepRunFit fit_sweep_run(const SweepRun& run) { return RunFitter(run).fit(); }

}  // namespace ohmdrag::rig

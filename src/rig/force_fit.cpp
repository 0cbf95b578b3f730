#include "ohmdrag/rig/force_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>

#include "ohmdrag/contact/force_exponent.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "rig/force_regression.hpp"

namespace ohmdrag::rig {

namespace {

/// No contact on a shaft is pressed less or more; common practice, no source.
constexpr std::pair<double, double> plausible_N_m{0.05, 5000.0}, plausible_N{1e-3, 2000.0};
/// Exponents of every contact law lie below; common practice, no source.
constexpr double highest_exponent = 1.3;
constexpr double told_range = 2.0;
constexpr double wide_gap = 0.2;
constexpr double stands_share = 0.15, oftener_than_others = 3.0;
constexpr std::size_t stands_in_row = 3;

[[noreturn]] void refuse(const std::string& why) { throw std::invalid_argument(why); }

std::string percent(double share) { return print_number(100.0 * share, 2) + " %"; }

/// So that the reference can be written down as it is.
double two_digits(double value) {
  const double digit = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
  return std::round(value / digit) * digit;
}

class Fitter {
 public:
  explicit Fitter(const ForceRun& run) : run_(run) {}

  ForceFit fit() {
    require_forces();
    const auto impedance = readings([](const ForcePoint& point) -> std::optional<double> {
      return point.impedance ? std::optional(point.impedance->value()) : std::nullopt;
    });
    const auto torque = readings([](const ForcePoint& point) -> std::optional<double> {
      return point.torque ? std::optional(point.torque->value()) : std::nullopt;
    });
    if (impedance.empty() && torque.empty()) refuse("the run holds neither impedance nor torque");
    const double reference = std::log(out_.reference), n = run_.elements;
    if (!impedance.empty()) {
      require_unsaturated(impedance, "impedance");
      out_.impedance =
          power_of_force(impedance, reference, run_.lead.value() / n, run_.lead_error.value() / n);
      remark_common(*out_.impedance, "impedance");
      remark_impedance();
    }
    if (!torque.empty()) {
      require_unsaturated(torque, "torque");
      out_.torque =
          power_of_force(torque, reference, run_.tare.value() / n, run_.tare_error.value() / n);
      remark_common(*out_.torque, "torque");
    }
    if (out_.impedance && out_.torque) remark_price();
    if (out_.impedance && !out_.impedance->part_scatter)
      out_.notes.emplace_back(
          "One specimen tells no scatter from part to part: run three or more.");
    return std::move(out_);
  }

 private:
  void require_forces() {
    if (run_.points.size() < fewest_force_points)
      refuse(fmt::format("the run has {} readings; {} or more make a fit", run_.points.size(),
                         fewest_force_points));
    const auto [least, most] = run_.per_length ? plausible_N_m : plausible_N;
    double logs = 0.0;
    out_.lowest = std::numeric_limits<double>::infinity();
    std::map<long, int> distinct;
    for (const ForcePoint& point : run_.points) {
      if (!(point.force >= least && point.force <= most))
        refuse(
            fmt::format("a force of {} {} stands in the run; expected {} to {}: is the unit "
                        "right, are columns swapped?",
                        print_number(point.force, 3), run_.per_length ? "N/m" : "N", least, most));
      out_.lowest = std::min(out_.lowest, point.force);
      out_.highest = std::max(out_.highest, point.force);
      logs += std::log(point.force) / static_cast<double>(run_.points.size());
      ++distinct[std::lround(50.0 * std::log(point.force))];
    }
    out_.forces = distinct.size();
    out_.reference = run_.reference > 0.0 ? run_.reference : two_digits(std::exp(logs));
    const double range = out_.highest / out_.lowest;
    if (range < least_force_range)
      refuse(fmt::format(
          "all forces lie within a factor of {}: no exponent can be told. Vary the force by two "
          "or more",
          print_number(range, 3)));
    if (range < told_range)
      out_.warnings.push_back(
          fmt::format("The forces lie within a factor of {}: vary them by two or more.",
                      print_number(range, 2)));
  }

  template <class Read>
  std::vector<LogReading> readings(const Read& read) const {
    std::vector<LogReading> out;
    for (std::size_t i = 0; i < run_.points.size(); ++i)
      if (const auto value = read(run_.points[i]))
        out.push_back(
            {i, std::log(run_.points[i].force), *value / run_.elements, run_.points[i].specimen});
    return out;
  }

  void require_unsaturated(const std::vector<LogReading>& readings, const char* what) const {
    std::map<double, std::vector<double>> forces_at;
    for (const LogReading& reading : readings)
      forces_at[reading.value].push_back(reading.log_force);
    const auto& [highest, forces] = *forces_at.rbegin();
    std::size_t others = 1;
    for (const auto& [value, at] : forces_at)
      if (value < highest) others = std::max(others, at.size());
    const auto times = static_cast<double>(forces.size());
    const auto [low, high] = std::ranges::minmax(forces);
    if (forces_at.size() == 1 || forces.size() < stands_in_row || low == high ||
        times < stands_share * static_cast<double>(readings.size()) ||
        times < oftener_than_others * static_cast<double>(others))
      return;
    refuse(fmt::format(
        "the {} reads {}, its highest value, {} times: the instrument seems to stand at its end. "
        "Change its range, or leave these out",
        what, print_number(highest * run_.elements, 4), forces.size()));
  }

  void remark_common(const PowerOfForce& law, const std::string& what) {
    if (std::abs(law.exponent.value) > highest_exponent)
      out_.warnings.push_back(fmt::format(
          "The {} goes with force to the power {}, steeper than any contact law: are columns "
          "swapped, did something else change with the force?",
          what, print_number(law.exponent.value, 2)));
    if (law.bend && std::abs(law.bend->value) > law.bend->half_width)
      out_.notes.push_back(fmt::format(
          "The exponent of the {} is not the same all over: it changes by {} from the lowest force "
          "to the highest. Within the run the mean one holds, beyond it none.",
          what, print_number(law.bend->value, 2)));
    if (law.hysteresis && std::abs(law.hysteresis->value) > law.hysteresis->half_width) {
      std::string text = fmt::format("Loading, the {} is {} {} than unloading.", what,
                                     percent(std::abs(law.hysteresis->value)),
                                     law.hysteresis->value > 0.0 ? "higher" : "lower");
      if (std::abs(law.hysteresis->value) > wide_gap)
        out_.warnings.push_back(text +
                                " So wide a gap means that the contact had not settled, drifts, or "
                                "was changed by the force.");
      else
        out_.notes.push_back(std::move(text));
    }
    if (!law.far_off.empty())
      out_.notes.push_back(fmt::format(
          "{} of {} readings of the {} far off (the first at {} {}): counted less, not left out.",
          law.far_off.size(), law.modelled.size(), what,
          print_number(run_.points[law.far_off.front()].force, 3), run_.per_length ? "N/m" : "N"));
  }

  void remark_impedance() {
    const double m = -out_.impedance->exponent.value, half = out_.impedance->exponent.half_width;
    if (m + half < 0.0) {
      out_.warnings.emplace_back(
          "The impedance rises with force. No contact does so: did it drift during the run, was it "
          "wetted or worn? Repeat the lowest force at the end.");
      return;
    }
    if (m + half < weak_exponent) {
      out_.wrong_lever = true;
      out_.notes.push_back(fmt::format(
          "Force is the wrong lever: twice the force takes {} of the impedance at most. Change the "
          "material or the number of fibres.",
          percent(1.0 - std::pow(2.0, -(m + half)))));
      return;
    }
    if (m - half < weak_exponent)
      out_.notes.push_back(fmt::format(
          "The run does not tell whether force is the right lever: twice the force takes between "
          "{} and {} of the impedance. More forces, farther apart, would tell.",
          percent(std::max(0.0, 1.0 - std::pow(2.0, -(m - half)))),
          percent(1.0 - std::pow(2.0, -(m + half)))));
    else
      out_.notes.push_back(contact::force_effect_in_words(m));
  }

  void remark_price() {
    const double m = -out_.impedance->exponent.value, k = out_.torque->exponent.value;
    const double half =
        std::hypot(out_.impedance->exponent.half_width, out_.torque->exponent.half_width);
    if (k - m > half)
      out_.notes.push_back(fmt::format(
          "The torque grows faster than the impedance falls: twice the force leaves {} of the "
          "impedance and costs {} of the torque. Less impedance comes cheaper by material or "
          "number of fibres than by force.",
          percent(std::pow(2.0, -m)), percent(std::pow(2.0, k))));
    else if (m - k > half)
      out_.notes.push_back(fmt::format(
          "The impedance falls faster than the torque grows: twice the force leaves {} of the "
          "impedance and costs {} of the torque.",
          percent(std::pow(2.0, -m)), percent(std::pow(2.0, k))));
  }

  const ForceRun& run_;
  ForceFit out_;
};

}  // namespace

ForceFit fit_force(const ForceRun& run) { return Fitter(run).fit(); }

}  // namespace ohmdrag::rig

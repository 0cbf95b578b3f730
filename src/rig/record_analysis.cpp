#include "rig/record_analysis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

/// See fit_shaft_voltage.
constexpr double least_in_noises = 8.0, left_in_noises = 5.0;
constexpr double share_of_common_range = 1.0 / 7.0, share_of_shaft_range = 1.0 / 12.0;

/// An edge that the shaft follows by less than this share of the ratio.
constexpr double idle_share = 0.25;

class Analyst {
 public:
  Analyst(Signal signal, const std::string& name, bool grounded)
      : name_(name), grounded_(grounded) {
    out_.signal = std::move(signal);
  }

  RecordAnalysis made() {
    if (out_.signal.with_common())
      by_common_mode();
    else if (grounded_)
      out_.floated_V = out_.signal.shaft_V;
    else
      by_shaft_alone();
    take_shaft_steps();
    return std::move(out_);
  }

 private:
  [[noreturn]] void refuse(const std::string& why) const {
    throw std::invalid_argument(name_ + ": " + why);
  }

  void by_common_mode() {
    const Signal& signal = out_.signal;
    const double change = std::max(least_in_noises * signal.common_noise_V,
                                   share_of_common_range * signal.common_range_V);
    const auto lag = shortest_change(signal.common_V, signal.sweeps, change, false);
    if (lag) out_.edges = steps_of(signal, signal.common_V, {change, *lag});
    if (out_.edges.empty())
      refuse("the common mode never steps: does the inverter run, is it the right column?");
    take_rise();
    out_.ratio = first_ratio();
    out_.floated_V = signal.shaft_V;
    if (grounded_) return;
    const double noise = std::hypot(signal.shaft_noise_V, out_.ratio * signal.common_noise_V);
    look_for_falls(noise, std::max<std::size_t>(2, *lag), out_.ratio);
  }

  void by_shaft_alone() {
    Signal& signal = out_.signal;
    const double change = std::max(least_in_noises * signal.shaft_noise_V,
                                   share_of_shaft_range * signal.shaft_range_V);
    const auto lag = shortest_change(signal.shaft_V, signal.sweeps, change, true);
    if (!lag)
      refuse(
          "the shaft never steps: a bearing that conducts, a grounding contact, or a probe that "
          "is not connected. Record the common mode beside it to tell which");
    out_.floated_V = signal.shaft_V;
    // Edges of one sampling interval look like collapses.
    if (*lag > 1) look_for_falls(signal.shaft_noise_V, *lag / 2, 0.0);
    const auto of_edges = shortest_change(out_.floated_V, signal.sweeps, change, false);
    out_.edges = steps_of(signal, out_.floated_V, {change, of_edges.value_or(*lag)});
    take_rise();
  }

  void look_for_falls(double noise_V, std::size_t samples, double ratio) {
    const Signal& signal = out_.signal;
    out_.judged = true;
    out_.least_fall_V =
        std::max(least_in_noises * noise_V, share_of_shaft_range * signal.shaft_range_V);
    out_.falls = falls_of(signal, {out_.least_fall_V, left_in_noises * noise_V, samples, ratio});
    out_.floated_V = without_falls(signal, out_.falls);
  }

  void take_rise() {
    std::vector<double> rises;
    for (const Step& edge : out_.edges) rises.push_back(edge.rise_s);
    if (!rises.empty()) out_.rise_s = median_of(rises);
  }

  /// Over the ramps alone, which collapses leave whole as a rule; those that they do not read less.
  double first_ratio() const {
    const Signal& signal = out_.signal;
    std::vector<double> ratios;
    for (const Step& edge : out_.edges) {
      const std::size_t to = std::min(edge.begin + out_.ramp_samples(), edge.to - 1);
      const double common = signal.common_V[to] - signal.common_V[edge.begin];
      if (common != 0.0)
        ratios.push_back((signal.shaft_V[to] - signal.shaft_V[edge.begin]) / common);
    }
    std::vector<double> again = ratios;
    const double low = quantile_of(ratios, 0.25), high = quantile_of(again, 0.75);
    return std::abs(high) >= std::abs(low) ? high : low;
  }

  /// The rate at which plateaus droop towards zero: dv/dt = -rate v, from the third to the fourth
  /// quarter of the times between edges.
  void take_leak() {
    double products = 0.0, squares = 0.0;
    std::vector<std::pair<double, double>> droops;  // expected at a rate of one, seen
    const Signal& signal = out_.signal;
    std::vector<double> lengths;
    for (const Step& edge : out_.edges) lengths.push_back(static_cast<double>(edge.to - edge.end));
    // Ringing has died down only in the longer ones.
    const double least_length = median_of(lengths);
    auto fall = out_.falls.begin();
    for (const Step& edge : out_.edges) {
      while (fall != out_.falls.end() && fall->bottom < edge.end) ++fall;
      if (fall != out_.falls.end() && fall->top < edge.to) continue;
      const std::size_t quarter = (edge.to - edge.end) / 4, half = edge.end + 2 * quarter;
      if (quarter < 2 || static_cast<double>(edge.to - edge.end) < least_length) continue;
      const double third = mean(half, half + quarter), fourth = mean(half + quarter, edge.to);
      const double expected = -0.5 * (third + fourth) * static_cast<double>(quarter) * signal.dt_s;
      droops.emplace_back(expected, fourth - third);
      products += expected * (fourth - third);
      squares += expected * expected;
    }
    if (droops.size() < fewest_edges || !(squares > 0.0)) return;
    out_.leak_per_s = products / squares;
    double residuals = 0.0;
    for (const auto& [expected, seen] : droops)
      residuals += std::pow(expected * (seen - out_.leak_per_s * expected), 2);
    out_.leak_error_per_s = std::sqrt(residuals) / squares;
  }
  double mean(std::size_t begin, std::size_t end) const {
    const auto& v = out_.signal.shaft_V;
    return std::accumulate(v.begin() + static_cast<std::ptrdiff_t>(begin),
                           v.begin() + static_cast<std::ptrdiff_t>(end), 0.0) /
           static_cast<double>(end - begin);
  }

  void take_shaft_steps() {
    take_leak();
    auto fall = out_.falls.begin();
    for (const Step& edge : out_.edges) {
      const auto before = level_of(out_.floated_V, edge.from, edge.begin + 1);
      const auto after = level_of(out_.floated_V, edge.end + 1, edge.to);
      const double leaked = leaked_at(edge);
      out_.leaked_Vs.push_back(leaked);
      out_.shaft_step_V.push_back(before && after ? *after - *before + out_.leak_per_s * leaked
                                                  : std::numeric_limits<double>::quiet_NaN());
      out_.idle.push_back(out_.signal.with_common() &&
                          std::abs(out_.shaft_step_V.back()) <
                              idle_share * std::abs(out_.ratio * edge.size_V));
      while (fall != out_.falls.end() && fall->bottom < edge.from) ++fall;
      out_.undisturbed.push_back(fall == out_.falls.end() || fall->top >= edge.to);
    }
  }

  /// The voltage over the time from the middle of one level to that of the next.
  double leaked_at(const Step& edge) const {
    const auto before = level_of(out_.signal.shaft_V, edge.from, edge.begin + 1);
    const auto after = level_of(out_.signal.shaft_V, edge.end + 1, edge.to);
    if (!before || !after) return 0.0;
    const auto& t = out_.signal.t_s;
    const double from_level = edge.middle_s - level_time_s(t, edge.from, edge.begin + 1);
    return *before * from_level + *after * (level_time_s(t, edge.end + 1, edge.to) - edge.middle_s);
  }

  std::string name_;
  bool grounded_;
  RecordAnalysis out_;
};

}  // namespace

std::size_t RecordAnalysis::ramp_samples() const {
  constexpr double share_between_10_and_90 = 0.8;  // of a straight ramp (derived: definition)
  return 1 + static_cast<std::size_t>(std::ceil(rise_s / share_between_10_and_90 / signal.dt_s));
}

RecordAnalysis analysis_of(Signal signal, const std::string& name, bool grounded) {
  return Analyst(std::move(signal), name, grounded).made();
}

}  // namespace ohmdrag::rig

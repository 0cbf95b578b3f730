#include "ohmdrag/voltage/measured_waveform.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::voltage {

namespace {

double between(const VoltageSample& a, const VoltageSample& b, double at_s) {
  const double share = (at_s - a.at.value()) / (b.at - a.at).value();
  return a.value.value() + share * (b.value - a.value).value();
}

void require_sound(std::span<const VoltageSample> samples) {
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (!(std::isfinite(samples[i].at.value()) && std::isfinite(samples[i].value.value())))
      throw std::invalid_argument("waveform: a sample is not finite");
    if (i > 0 && !(samples[i].at > samples[i - 1].at))
      throw std::invalid_argument("waveform: the times of the samples must rise");
  }
}

}  // namespace

MeasuredWaveform measured_waveform(std::span<const VoltageSample> samples,
                                   std::optional<Time> period) {
  constexpr std::size_t least_samples = 3;
  if (samples.size() < least_samples)
    throw std::invalid_argument("waveform: needs at least three samples");
  require_sound(samples);
  const double start_s = samples.front().at.value();
  const double record_s = samples.back().at.value() - start_s;
  const double period_s = period ? period->value() : record_s;
  // A period read to a few digits may end a rounding beyond the last sample.
  constexpr double rounding = 1e-9;
  if (!(period_s > 0.0 && period_s <= record_s * (1.0 + rounding)))
    throw std::invalid_argument("waveform: the period must be positive and within the record");

  MeasuredWaveform out;
  out.waveform.period = Time::from_value(period_s);
  double longest_s = 0.0, low_V = samples.front().value.value(), high_V = low_V;
  double end_V = samples.back().value.value();
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double at_s = samples[i].at.value() - start_s;
    if (i > 0) longest_s = std::max(longest_s, (samples[i].at - samples[i - 1].at).value());
    if (at_s >= period_s * (1.0 - rounding)) {
      end_V = at_s <= period_s * (1.0 + rounding)
                  ? samples[i].value.value()
                  : between(samples[i - 1], samples[i], start_s + period_s);
      break;
    }
    const double value_V = samples[i].value.value();
    low_V = std::min(low_V, value_V);
    high_V = std::max(high_V, value_V);
    out.waveform.corners.push_back({Time::from_value(at_s), samples[i].value});
  }
  if (out.waveform.corners.size() < least_samples)
    throw std::invalid_argument("waveform: needs at least three samples within its period");
  out.silent_above = Frequency::from_value(0.5 / longest_s);
  out.range = Voltage::from_value(high_V - low_V);
  out.mismatch = Voltage::from_value(end_V) - samples.front().value;
  return out;
}

std::vector<std::string> cautions_of(const MeasuredWaveform& measured) {
  std::vector<std::string> out;
  constexpr double visible = 0.02;  // of the range: what a trace on a screen shows
  if (const double share = std::abs(double(measured.mismatch / measured.range)); share > visible)
    out.push_back(
        fmt::format("The record does not close: its end differs from its begin by {:.0f} % of its "
                    "range, and the straight line between them is a step that the source did not "
                    "make. Give the period, or cut the record to whole periods.",
                    100.0 * share));
  const std::vector<FoundEdge> edges = edges_of(measured.waveform);
  if (edges.empty()) {
    out.emplace_back("The record holds no step that could be told from the rest.");
    return out;
  }
  const auto fastest =
      std::min_element(edges.begin(), edges.end(),
                       [](const FoundEdge& a, const FoundEdge& b) { return a.rise < b.rise; });
  constexpr int enough_pieces = 5;
  if (fastest->pieces < enough_pieces)
    out.push_back(fmt::format(
        "The fastest edge of the record, {} from 10 to 90 %, has {} sampling intervals: it may be "
        "faster than it looks. Nothing is known above {}.",
        print_quantity(fastest->rise.value(), Dimension::time), fastest->pieces,
        print_quantity(measured.silent_above.value(), Dimension::frequency)));
  return out;
}

}  // namespace ohmdrag::voltage

#include "rig/record_signal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

/// A distance of more than so many sampling intervals begins another sweep.
constexpr double gap_in_intervals = 2.5;
/// Samples at the highest or lowest value, in rows of so many and by this share of the record, are
/// an instrument at its end; a smaller share is a warning. Common practice, no source.
constexpr std::size_t clipped_row = 6;
constexpr double clipped_share = 0.01;
/// No shaft or winding of a drive stands higher; common practice, no source.
constexpr double highest_V = 5000.0;

[[noreturn]] void refuse(const std::string& name, const std::string& why) {
  throw std::invalid_argument(name + ": " + why);
}

double range_of(const std::vector<double>& values) {
  const auto [low, high] = std::ranges::minmax_element(values);
  return *high - *low;
}

/// The smallest change between two neighbours that changes at all: a step of the converter.
double resolution_of(const std::vector<double>& values) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i < values.size(); ++i)
    if (const double change = std::abs(values[i] - values[i - 1]); change > 1e-9)
      least = std::min(least, change);
  return least;
}

/// Standard deviation of a sample by the median of the second differences, which edges and
/// collapses, being few, do not move; no less than that of rounding.
double noise_of(const std::vector<double>& values, const std::vector<Sweep>& sweeps) {
  std::vector<double> second;
  second.reserve(values.size());
  for (const Sweep& sweep : sweeps)
    for (std::size_t i = sweep.begin + 2; i < sweep.end; ++i)
      second.push_back(std::abs(values[i] - 2.0 * values[i - 1] + values[i - 2]));
  // Independent samples: the second difference has six times the variance; 0.6745 of the standard
  // deviation is the median magnitude of a normal value.
  return std::max(median_of(second) / (0.6745 * std::sqrt(6.0)),
                  resolution_of(values) / std::sqrt(12.0));
}

void require_not_saturated(const std::vector<double>& values, double noise_V,
                           const std::string& name, const std::string& channel,
                           std::vector<std::string>& warnings) {
  const double resolution = resolution_of(values);
  // Without noise beyond a step of the converter a plateau is one value by itself.
  if (noise_V < 0.5 * resolution) return;
  const auto [low, high] = std::ranges::minmax_element(values);
  for (const double end : {*low, *high}) {
    std::size_t row = 0, clipped = 0;
    for (const double value : values) {
      row = value == end ? row + 1 : 0;
      if (row == clipped_row) clipped += clipped_row;
      if (row > clipped_row) ++clipped;
    }
    const double share = static_cast<double>(clipped) / static_cast<double>(values.size());
    if (share > clipped_share)
      refuse(name, fmt::format("the {} reads {} V, its {} value, in {:.0f} % of the samples, many "
                               "in a row: the instrument is saturated. Set a wider range",
                               channel, print_number(end, 4), end == *high ? "highest" : "lowest",
                               100.0 * share));
    if (clipped > 0)
      warnings.push_back(fmt::format(
          "{}: the {} stands at {} V, its {} value, for {} samples in rows of {} or more: the "
          "instrument clips there, and peaks are higher than they read.",
          name, channel, print_number(end, 4), end == *high ? "highest" : "lowest", clipped,
          clipped_row));
  }
}

void require_volts(const std::vector<double>& values, const std::string& name,
                   const std::string& channel) {
  double largest = 0.0;
  for (const double value : values) {
    if (!std::isfinite(value)) refuse(name, fmt::format("the {} is no number somewhere", channel));
    largest = std::max(largest, std::abs(value));
  }
  if (largest > highest_V)
    refuse(name,
           fmt::format("the {} reaches {} V: is the unit right, is the factor of the probe counted "
                       "twice?",
                       channel, print_number(largest, 3)));
  if (!(range_of(values) > 0.0))
    refuse(name, fmt::format("the {} reads {} V all the time: is the probe connected?", channel,
                             print_number(values.front(), 4)));
}

void find_sweeps(Signal& signal, const std::string& name) {
  std::vector<double> distances;
  distances.reserve(signal.t_s.size());
  for (std::size_t i = 1; i < signal.t_s.size(); ++i) {
    const double distance = signal.t_s[i] - signal.t_s[i - 1];
    if (!(distance > 0.0))
      refuse(name, fmt::format("the time runs back or stands still at sample {}, {} s", i + 1,
                               print_number(signal.t_s[i], 6)));
    distances.push_back(distance);
  }
  signal.dt_s = median_of(distances);
  std::size_t begin = 0;
  for (std::size_t i = 1; i <= signal.t_s.size(); ++i) {
    if (i < signal.t_s.size() &&
        signal.t_s[i] - signal.t_s[i - 1] <= gap_in_intervals * signal.dt_s)
      continue;
    signal.sweeps.push_back({begin, i});
    begin = i;
  }
}

}  // namespace

double quantile_of(std::vector<double>& values, double share) {
  if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
  const auto place = static_cast<std::size_t>(share * static_cast<double>(values.size()));
  const auto at = values.begin() + static_cast<std::ptrdiff_t>(std::min(place, values.size() - 1));
  std::nth_element(values.begin(), at, values.end());
  return *at;
}

double median_of(std::vector<double>& values) { return quantile_of(values, 0.5); }

Signal signal_of(const ShaftRecord& record, const std::string& name,
                 std::vector<std::string>& warnings) {
  const std::size_t n = record.time.size();
  if (n < fewest_record_samples)
    refuse(name,
           fmt::format("has {} samples; a record wants {} or more", n, fewest_record_samples));
  if (record.shaft.size() != n || (!record.common_mode.empty() && record.common_mode.size() != n))
    refuse(name, "its columns are not equally long");
  Signal signal;
  for (const Time& t : record.time) signal.t_s.push_back(t.value());
  for (const Voltage& v : record.shaft) signal.shaft_V.push_back(v.value());
  for (const Voltage& v : record.common_mode) signal.common_V.push_back(v.value());
  find_sweeps(signal, name);
  require_volts(signal.shaft_V, name, "shaft voltage");
  signal.shaft_noise_V = noise_of(signal.shaft_V, signal.sweeps);
  signal.shaft_range_V = range_of(signal.shaft_V);
  require_not_saturated(signal.shaft_V, signal.shaft_noise_V, name, "shaft voltage", warnings);
  if (signal.with_common()) {
    require_volts(signal.common_V, name, "common mode");
    signal.common_noise_V = noise_of(signal.common_V, signal.sweeps);
    signal.common_range_V = range_of(signal.common_V);
    require_not_saturated(signal.common_V, signal.common_noise_V, name, "common mode", warnings);
  }
  return signal;
}

}  // namespace ohmdrag::rig

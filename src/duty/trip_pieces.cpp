#include "duty/trip_pieces.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace ohmdrag::duty {

namespace {

/// Seconds since 1970 in a double are that fine: a step of 10 s stays one.
constexpr double rounding_s = 1e-6;

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  if (values.size() % 2 == 1) return *middle;
  return 0.5 * (*middle + *std::max_element(values.begin(), middle));
}

double step_s(const TripPiece& samples, std::size_t i) {
  return (samples.time[i] - samples.time[i - 1]).value();
}

/// Samples `first` to `end`, without `end`, in all columns.
TripPiece part_of(const TripPiece& all, std::size_t first, std::size_t end) {
  const auto cut = [&](const auto& column) {
    using Column = std::decay_t<decltype(column)>;
    if (column.empty()) return Column{};
    return Column(column.begin() + static_cast<std::ptrdiff_t>(first),
                  column.begin() + static_cast<std::ptrdiff_t>(end));
  };
  return {cut(all.time),
          cut(all.speed),
          cut(all.shaft_speed),
          cut(all.torque),
          cut(all.sump_temperature),
          cut(all.ambient_temperature),
          cut(all.heat)};
}

void add_way(const TripPiece& piece, TripReport& report, double& weights_s2) {
  const std::size_t last = piece.time.size() - 1;
  for (std::size_t i = 0; i <= last; ++i) {
    const double before = i > 0 ? step_s(piece, i) : 0.0;
    const double after = i < last ? step_s(piece, i + 1) : 0.0;
    weights_s2 += 0.25 * (before + after) * (before + after);
    if (i > 0)
      report.distance += 0.5 * (piece.speed[i - 1] + piece.speed[i]) * Time::from_value(before);
  }
}

}  // namespace

Trip trip_of(TripPiece samples, TripReport report) {
  const std::size_t count = samples.time.size();
  if (count < 2)
    throw TripError(0, {}, fmt::format("the log has {} samples; expected two or more", count));
  report.samples = count;
  report.duration = samples.time.back() - samples.time.front();
  for (const Speed& v : samples.speed) report.checksum += v;

  std::vector<double> steps_s;
  steps_s.reserve(count - 1);
  for (std::size_t i = 1; i < count; ++i) steps_s.push_back(step_s(samples, i));
  const double median_s = median(std::move(steps_s));
  report.median_step = Time::from_value(median_s);
  if (median_s > coarsest_step_s + rounding_s)
    throw TripError(0, {},
                    fmt::format("the median step is {:.4g} s; above {} s a speed says too little "
                                "of what lies between",
                                median_s, coarsest_step_s));
  report.coarse = median_s > coarse_step_s + rounding_s;

  const double gap_s = std::max(gap_in_medians * median_s, shortest_gap_s);
  double bridged_s = 0.0;
  std::vector<std::size_t> cuts{0};
  for (std::size_t i = 1; i < count; ++i) {
    const double dt = step_s(samples, i);
    if (dt <= gap_s + rounding_s) continue;
    const bool bridged = dt <= longest_bridge_s + rounding_s;
    report.gaps.push_back({samples.time[i - 1], Time::from_value(dt), bridged});
    if (bridged)
      bridged_s += dt;
    else
      cuts.push_back(i);
  }
  cuts.push_back(count);

  Trip trip;
  double covered_s = 0.0;
  double weights_s2 = 0.0;
  if (cuts.size() == 2) {
    trip.pieces.push_back(std::move(samples));
  } else {
    for (std::size_t c = 1; c < cuts.size(); ++c)
      if (cuts[c] - cuts[c - 1] < 2)
        ++report.lone_samples;
      else
        trip.pieces.push_back(part_of(samples, cuts[c - 1], cuts[c]));
  }
  for (const TripPiece& piece : trip.pieces) {
    covered_s += (piece.time.back() - piece.time.front()).value();
    add_way(piece, report, weights_s2);
  }
  if (trip.pieces.empty())
    throw TripError(0, {}, "no two samples of the log stand less than a long gap apart");
  report.bridged_share = bridged_s / report.duration.value();
  report.covered_share = covered_s / report.duration.value();
  // A uniform distribution one step wide: standard deviation q/sqrt(12).
  report.distance_rounding = report.speed_step * Time::from_value(std::sqrt(weights_s2 / 12.0));
  trip.report = std::move(report);
  return trip;
}

Cycle cycle_of(const TripPiece& piece, const std::string& id) {
  return {.id = id,
          .title = id,
          .source = "measured trip",
          .time = piece.time,
          .speed = piece.speed,
          .phases = {{std::string(whole), 0, piece.time.size() - 1}}};
}

std::string in_words(const TripReport& report) {
  const auto counted = [](std::size_t count, std::string_view one, std::string_view several) {
    return fmt::format("{} {}", count, count == 1 ? one : several);
  };
  std::string text =
      fmt::format("{} samples, median step {:.4g} s, sum of the speeds {:.6g} km/h", report.samples,
                  report.median_step.value(), in_kmh(report.checksum));
  if (report.speed_step > Speed{})
    text +=
        fmt::format(", speed in steps of {:.3g} km/h (distance known to {:.2g} m by that alone)",
                    in_kmh(report.speed_step), report.distance_rounding.value());
  if (report.duplicates > 0)
    text += fmt::format("; {} averaged into the row of the same time",
                        counted(report.duplicates, "row", "rows"));
  const auto bridged = static_cast<std::size_t>(
      std::ranges::count_if(report.gaps, [](const TripGap& gap) { return gap.bridged; }));
  if (bridged > 0)
    text += fmt::format("; {} bridged by a straight line, {:.3g} % of the time",
                        counted(bridged, "gap", "gaps"), 100.0 * report.bridged_share);
  if (const std::size_t split = report.gaps.size() - bridged; split > 0) {
    const auto longest = std::ranges::max_element(report.gaps, {}, &TripGap::length);
    text += fmt::format("; {} left out, the longest {:.4g} s: {:.3g} % of the time is covered",
                        counted(split, "gap", "gaps"), longest->length.value(),
                        100.0 * report.covered_share);
  }
  if (report.lone_samples > 0)
    text += fmt::format("; {} between long gaps left out",
                        counted(report.lone_samples, "lone sample", "lone samples"));
  if (report.coarse)
    text += fmt::format("; a step above {} s misses way and peaks of speed", coarse_step_s);
  if (report.without_offset)
    text += "; the date-times name no offset from UTC and are taken as of one clock";
  return text + '.';
}

}  // namespace ohmdrag::duty

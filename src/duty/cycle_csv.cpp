#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "ohmdrag/duty/cycle.hpp"

namespace ohmdrag::duty {

namespace {

constexpr double kmh_per_mph = 1.609344;  // exact, see the header

[[noreturn]] void refuse(const CycleLabel& label, std::size_t line, const std::string& what) {
  throw std::invalid_argument(fmt::format("cycle {}, line {}: {}", label.id, line, what));
}

/// Takes the text before the first `separator`, or all of it, off the front.
std::string_view take(std::string_view& text, char separator) {
  const std::size_t end = text.find(separator);
  const std::string_view head = text.substr(0, end);
  text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  return head;
}

std::optional<double> number(std::string_view cell) {
  double value = 0.0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (error != std::errc{} || end != cell.data() + cell.size() || !std::isfinite(value)) return {};
  return value;
}

/// The cells of a row as numbers, exactly as many as there are columns.
template <std::size_t N>
std::array<double, N> cells(const CycleLabel& label, std::size_t line, std::string_view row) {
  std::array<double, N> values{};
  for (std::size_t i = 0; i < N; ++i) {
    if (i > 0 && row.empty()) refuse(label, line, fmt::format("fewer than {} columns", N));
    const std::string_view cell = take(row, ',');
    const auto value = number(cell);
    if (!value) refuse(label, line, fmt::format("\"{}\" is no number", cell));
    values[i] = *value;
  }
  if (!row.empty()) refuse(label, line, fmt::format("more than {} columns", N));
  return values;
}

std::vector<Phase> phases_of(const CycleLabel& label, const std::vector<Time>& time) {
  if (label.phases.empty()) return {{std::string(whole), 0, time.size() - 1}};
  std::vector<Phase> phases;
  std::size_t first = 0;
  for (const PhaseEnd& phase : label.phases) {
    std::size_t last = first + 1;
    while (last < time.size() && time[last] < phase.end) ++last;
    if (last >= time.size() || time[last] != phase.end)
      throw std::invalid_argument(
          fmt::format("cycle {}: phase {} ends at {} s, where the table has no sample", label.id,
                      phase.id, phase.end.value()));
    phases.push_back({phase.id, first, last});
    first = last;
  }
  if (first + 1 != time.size())
    throw std::invalid_argument(
        fmt::format("cycle {}: the last phase ends at {} s, the table at {} s", label.id,
                    time[first].value(), time.back().value()));
  return phases;
}

}  // namespace

Cycle cycle_from_csv(std::string_view text, const CycleLabel& label) {
  Cycle cycle{.id = label.id,
              .title = label.title,
              .source = label.source,
              .time = {},
              .speed = {},
              .phases = {}};
  const std::string_view header = take(text, '\n');
  const bool with_mph = header == "time_s,speed_kmh,speed_mph";
  if (!with_mph && header != "time_s,speed_kmh")
    refuse(label, 1,
           fmt::format("\"{}\" is not time_s,speed_kmh with or without speed_mph", header));

  for (std::size_t line = 2; !text.empty(); ++line) {
    const std::string_view row = take(text, '\n');
    double time_s = 0.0;
    double speed_kmh = 0.0;
    if (with_mph) {
      double speed_mph = 0.0;
      const auto values = cells<3>(label, line, row);
      time_s = values[0], speed_kmh = values[1], speed_mph = values[2];
      // Written out exactly: only rounding of the binary fractions may differ.
      if (!(std::abs(speed_kmh - speed_mph * kmh_per_mph) <= 1e-9))
        refuse(label, line, fmt::format("{} km/h is not {} mph", speed_kmh, speed_mph));
    } else {
      const auto values = cells<2>(label, line, row);
      time_s = values[0], speed_kmh = values[1];
    }
    const Time time = Time::from_value(time_s);
    if (!cycle.time.empty() && !(time > cycle.time.back()))
      refuse(
          label, line,
          fmt::format("time does not rise from {} s to {} s", cycle.time.back().value(), time_s));
    if (speed_kmh < 0.0) refuse(label, line, fmt::format("negative speed {} km/h", speed_kmh));
    cycle.time.push_back(time);
    cycle.speed.push_back(from_kmh(speed_kmh));
  }
  if (cycle.time.size() < 2)
    throw std::invalid_argument(fmt::format("cycle {}: fewer than two samples", label.id));
  cycle.phases = phases_of(label, cycle.time);
  return cycle;
}

}  // namespace ohmdrag::duty

#include "ohmdrag/duty/cycle.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

namespace ohmdrag::duty {

namespace {

void require_samples(const Cycle& cycle) {
  if (cycle.time.size() < 2 || cycle.time.size() != cycle.speed.size())
    throw std::invalid_argument(
        fmt::format("cycle {}: needs two samples or more, each with time and speed", cycle.id));
}

/// Adds a text to a list in words unless it stands there.
void append_once(std::string& list, const std::string& text, std::string_view separator) {
  if (list.find(text) != std::string::npos) return;
  if (!list.empty()) list += separator;
  list += text;
}

}  // namespace

Cycle refined(const Cycle& cycle, Time longest) {
  if (!(longest > Time{})) throw std::invalid_argument("cycle: the longest step must be positive");
  require_samples(cycle);
  Cycle fine{.id = cycle.id,
             .title = cycle.title,
             .source = cycle.source,
             .time = {cycle.time.front()},
             .speed = {cycle.speed.front()},
             .phases = cycle.phases};
  std::vector<std::size_t> new_index{0};
  for (std::size_t i = 1; i < cycle.time.size(); ++i) {
    const Time dt = cycle.time[i] - cycle.time[i - 1];
    // 1e-9: a step a rounding error longer than `longest` stays whole.
    const double parts = std::max(1.0, std::ceil((dt / longest).value() - 1e-9));
    for (double part = 1.0; part < parts; part += 1.0) {
      const double share = part / parts;
      fine.time.push_back(cycle.time[i - 1] + dt * share);
      fine.speed.push_back(cycle.speed[i - 1] + (cycle.speed[i] - cycle.speed[i - 1]) * share);
    }
    fine.time.push_back(cycle.time[i]);
    fine.speed.push_back(cycle.speed[i]);
    new_index.push_back(fine.time.size() - 1);
  }
  for (Phase& phase : fine.phases) {
    phase.first = new_index.at(phase.first);
    phase.last = new_index.at(phase.last);
  }
  return fine;
}

Cycle sequence(std::span<const Cycle> cycles) {
  if (cycles.empty()) throw std::invalid_argument("a sequence of cycles needs one at least");
  if (cycles.size() == 1) return cycles.front();
  Cycle joined;
  std::map<std::string, int> times_driven;
  for (const Cycle& cycle : cycles) {
    require_samples(cycle);
    std::size_t skip = 0;
    std::size_t first = 0;
    Time start{};
    if (!joined.time.empty()) {
      if (cycle.speed.front() != joined.speed.back())
        throw std::invalid_argument(
            fmt::format("cycle {} starts at {} km/h, the one before ends at {} km/h", cycle.id,
                        in_kmh(cycle.speed.front()), in_kmh(joined.speed.back())));
      skip = 1;  // the sample both share
      first = joined.time.size() - 1;
      start = joined.time.back();
    }
    for (std::size_t i = skip; i < cycle.time.size(); ++i) {
      joined.time.push_back(start + (cycle.time[i] - cycle.time.front()));
      joined.speed.push_back(cycle.speed[i]);
    }
    const int turn = ++times_driven[cycle.id];
    const std::string name = turn == 1 ? cycle.id : fmt::format("{}#{}", cycle.id, turn);
    for (const Phase& phase : cycle.phases)
      joined.phases.push_back({name + "/" + phase.id, first + phase.first, first + phase.last});
    joined.id += (joined.id.empty() ? "" : " + ") + cycle.id;
    joined.title += (joined.title.empty() ? "" : " + ") + cycle.title;
    append_once(joined.source, cycle.source, "; ");
  }
  return joined;
}

CycleTotals totals(const Cycle& cycle) {
  require_samples(cycle);
  return totals(cycle, Phase{std::string(whole), 0, cycle.time.size() - 1});
}

CycleTotals totals(const Cycle& cycle, const Phase& phase) {
  require_samples(cycle);
  if (!(phase.first < phase.last && phase.last < cycle.time.size()))
    throw std::invalid_argument(
        fmt::format("cycle {}: phase {} does not lie within it", cycle.id, phase.id));
  const auto& t = cycle.time;
  const auto& v = cycle.speed;

  CycleTotals sum;
  sum.duration = t[phase.last] - t[phase.first];
  sum.max = v[phase.first];
  Time stopped{};
  for (std::size_t i = phase.first + 1; i <= phase.last; ++i) {
    const Time dt = t[i] - t[i - 1];
    sum.distance += 0.5 * (v[i - 1] + v[i]) * dt;
    sum.max = std::max(sum.max, v[i]);
    if (v[i - 1] == Speed{} && v[i] == Speed{}) stopped += dt;
  }

  const auto samples = static_cast<std::size_t>(std::floor(sum.duration.value() + 1e-9)) + 1;
  std::size_t i = phase.first + 1;
  for (std::size_t k = 0; k < samples; ++k) {
    const Time at = t[phase.first] + Time::from_value(static_cast<double>(k));
    while (i < phase.last && t[i] < at) ++i;
    const double share = std::min(1.0, ((at - t[i - 1]) / (t[i] - t[i - 1])).value());
    const Speed sample = v[i - 1] + (v[i] - v[i - 1]) * share;
    sum.checksum += sample;
    if (sample == Speed{}) ++sum.zero_samples;
  }
  sum.rectangle_distance = sum.checksum * Time::from_value(1.0);
  sum.mean = sum.distance / sum.duration;
  sum.stop_share = (stopped / sum.duration).value();
  return sum;
}

}  // namespace ohmdrag::duty

#include <algorithm>
#include <cmath>
#include <numeric>

#include "rig/record_events.hpp"

namespace ohmdrag::rig {

namespace {

/// Fewer places are chance.
constexpr int fewest_places = 3;
/// What is less steep than a third of the steepest edge is no edge.
constexpr std::size_t slowest_in_steepest = 3;
/// Steep parts nearer than so many of their typical length are one edge: ringing steep enough to be
/// taken for an edge, 2 pi f A > step/(3 t_r), has its next steep part within 1/(2 f) < 5 t_r for
/// an amplitude of half the step (derived).
constexpr double one_edge_within = 6.0;
constexpr std::size_t longest_level = 4000;  ///< samples; more tell the level no better

/// A part of a sweep that changes steeply in one direction.
struct Steep {
  std::size_t begin, end;
};

std::vector<Steep> steep_parts(const std::vector<double>& v, const Sweep& sweep, double change_V,
                               std::size_t lag) {
  std::vector<Steep> parts;
  for (std::size_t i = sweep.begin; i + lag < sweep.end;) {
    const double change = v[i + lag] - v[i];
    if (std::abs(change) < change_V) {
      ++i;
      continue;
    }
    const double sign = change > 0.0 ? 1.0 : -1.0;
    std::size_t last = i;
    while (last + lag < sweep.end && sign * (v[last + lag] - v[last]) >= change_V) ++last;
    --last;
    // From the turn before it to the turn after it.
    std::size_t begin = i, end = last + lag;
    for (std::size_t k = i; k <= std::min(i + lag, end); ++k)
      if (sign * v[k] < sign * v[begin]) begin = k;
    for (std::size_t k = end; k-- > std::max(last, begin + 1);)
      if (sign * v[k] > sign * v[end]) end = k;
    parts.push_back({begin, end});
    i = std::max(last + 1, end > lag ? end - lag + 1 : last + 1);
  }
  return parts;
}

std::vector<Steep> joined(const std::vector<Steep>& parts, double nearer_than) {
  std::vector<Steep> out;
  for (const Steep& part : parts) {
    if (!out.empty() &&
        static_cast<double>(part.begin) < static_cast<double>(out.back().end) + nearer_than)
      out.back().end = std::max(out.back().end, part.end);
    else
      out.push_back(part);
  }
  return out;
}

/// When the voltage first passes a level between two samples, from `begin` on.
double passes_s(const Signal& signal, const std::vector<double>& v, const Steep& edge,
                double level_V, double sign) {
  for (std::size_t i = edge.begin; i < edge.end; ++i)
    if (sign * v[i + 1] >= sign * level_V) {
      const double rise = v[i + 1] - v[i];
      const double share = rise != 0.0 ? std::clamp((level_V - v[i]) / rise, 0.0, 1.0) : 0.0;
      return signal.t_s[i] + share * (signal.t_s[i + 1] - signal.t_s[i]);
    }
  return signal.t_s[edge.end];
}

/// Where the later half begins.
std::size_t level_begin(std::size_t begin, std::size_t end) {
  if (end <= begin) return end;
  return std::max(begin + (end - begin) / 2, end - std::min(end, longest_level));
}

}  // namespace

std::optional<double> level_of(const std::vector<double>& v, std::size_t begin, std::size_t end) {
  const std::size_t from = level_begin(begin, end);
  if (end < from + 2) return std::nullopt;
  return std::accumulate(v.begin() + static_cast<std::ptrdiff_t>(from),
                         v.begin() + static_cast<std::ptrdiff_t>(end), 0.0) /
         static_cast<double>(end - from);
}

double level_time_s(const std::vector<double>& t_s, std::size_t begin, std::size_t end) {
  return 0.5 * (t_s[level_begin(begin, end)] + t_s[end - 1]);
}

std::optional<std::size_t> shortest_change(const std::vector<double>& v,
                                           const std::vector<Sweep>& sweeps, double change_V,
                                           bool away) {
  std::size_t longest = 0;
  for (const Sweep& sweep : sweeps) longest = std::max(longest, sweep.size());
  for (std::size_t lag = 1; 2 * lag < longest; lag += std::max<std::size_t>(1, lag / 4)) {
    int places = 0;
    for (const Sweep& sweep : sweeps)
      for (std::size_t i = sweep.begin; i + lag < sweep.end; ++i) {
        const double change =
            away ? std::abs(v[i + lag]) - std::abs(v[i]) : std::abs(v[i + lag] - v[i]);
        if (change < change_V) continue;
        if (++places == fewest_places) return lag;
        i += 2 * lag;
      }
  }
  return std::nullopt;
}

std::vector<Step> steps_of(const Signal& signal, const std::vector<double>& v,
                           const Steepness& steepness) {
  const std::size_t lag = slowest_in_steepest * steepness.samples;
  std::vector<std::vector<Steep>> parts;
  std::vector<double> lengths;
  for (const Sweep& sweep : signal.sweeps) {
    parts.push_back(steep_parts(v, sweep, steepness.change_V, lag));
    for (const Steep& part : parts.back())
      lengths.push_back(static_cast<double>(part.end - part.begin));
  }
  const double near = one_edge_within * median_of(lengths);
  std::vector<Step> steps;
  for (std::size_t s = 0; s < parts.size(); ++s) {
    const std::vector<Steep> edges = joined(parts[s], near);
    for (std::size_t e = 0; e < edges.size(); ++e) {
      const std::size_t from = e == 0 ? signal.sweeps[s].begin : edges[e - 1].end + 1;
      const std::size_t to = e + 1 == edges.size() ? signal.sweeps[s].end : edges[e + 1].begin;
      const auto before = level_of(v, from, edges[e].begin + 1);
      const auto after = level_of(v, edges[e].end + 1, to);
      if (!before || !after) continue;
      const double size = *after - *before;
      if (std::abs(size) < 0.5 * steepness.change_V) continue;
      const double sign = size > 0.0 ? 1.0 : -1.0;
      const auto at = [&](double share) {
        return passes_s(signal, v, edges[e], *before + share * size, sign);
      };
      steps.push_back({s, edges[e].begin, edges[e].end, at(0.5), at(0.9) - at(0.1), size, *before,
                       *after, from, to});
    }
  }
  return steps;
}

}  // namespace ohmdrag::rig

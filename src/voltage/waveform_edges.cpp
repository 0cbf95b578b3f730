#include <algorithm>
#include <cmath>

#include "ohmdrag/voltage/measured_waveform.hpp"

namespace ohmdrag::voltage {

namespace {

constexpr double steep_share = 1.0 / 3.0;  // of the steepest
constexpr double least_share = 0.1;        // of the range

/// The line of three periods, so that an edge across the end of a period is like any other.
class Line {
 public:
  explicit Line(const Waveform& waveform) : per_period_(waveform.corners.size()) {
    const double period_s = waveform.period.value();
    for (int k = 0; k < 3; ++k)
      for (const Corner& corner : waveform.corners) {
        t_s.push_back(corner.at.value() + k * period_s);
        v_V.push_back(corner.value.value());
      }
  }
  std::size_t per_period() const { return per_period_; }
  double slope(std::size_t piece) const {
    return (v_V[piece + 1] - v_V[piece]) / (t_s[piece + 1] - t_s[piece]);
  }
  double value(double at_s) const {
    const std::size_t i = piece_of(at_s);
    return v_V[i] + slope(i) * (at_s - t_s[i]);
  }
  std::size_t piece_of(double at_s) const {
    const auto after = std::upper_bound(t_s.begin() + 1, t_s.end() - 1, at_s);
    return std::size_t(after - t_s.begin()) - 1;
  }
  double mean(double from_s, double to_s) const {
    if (!(to_s > from_s)) return value(from_s);
    double area = 0.0, at_s = from_s, at_V = value(from_s);
    for (std::size_t i = piece_of(from_s) + 1; at_s < to_s; ++i) {
      const double next_s = i + 1 < t_s.size() ? std::min(t_s[i], to_s) : to_s;
      const double next_V = value(next_s);
      area += 0.5 * (at_V + next_V) * (next_s - at_s);
      at_s = next_s;
      at_V = next_V;
    }
    return area / (to_s - from_s);
  }

  std::vector<double> t_s, v_V;

 private:
  std::size_t per_period_;
};

/// Corners from `first` to `last` between which the line is steep.
struct Stretch {
  std::size_t first;
  std::size_t last;
  double sign;
};

/// Visits, for corners from `begin` to `end`, the nearest later corner a tenth of the range away:
/// noise of less than that makes no step. A change that even the whole range could not make steep
/// enough is not looked for.
template <class Slope, class Visit>
void for_each_change(const Line& line, std::size_t end, double range_V, const Slope& least_slope,
                     const Visit& visit) {
  for (std::size_t i = 0; i < end; ++i)
    for (std::size_t k = i + 1; k < line.t_s.size(); ++k) {
      const double change_V = line.v_V[k] - line.v_V[i], time_s = line.t_s[k] - line.t_s[i];
      if (range_V < least_slope() * time_s) break;
      if (std::abs(change_V) < least_share * range_V) continue;
      visit(i, k, change_V / time_s);
      break;
    }
}

std::vector<Stretch> steep_stretches(const Line& line, double range_V) {
  double steepest = 0.0;
  for_each_change(
      line, line.per_period(), range_V, [&] { return steepest; },
      [&](std::size_t, std::size_t, double slope) {
        steepest = std::max(steepest, std::abs(slope));
      });
  std::vector<Stretch> joined;
  const double least = steep_share * steepest;
  for_each_change(
      line, line.t_s.size(), range_V, [&] { return least; },
      [&](std::size_t from, std::size_t to, double slope) {
        if (std::abs(slope) < least) return;
        const double sign = std::copysign(1.0, slope);
        if (!joined.empty() && joined.back().sign == sign && from <= joined.back().last)
          joined.back().last = std::max(joined.back().last, to);
        else
          joined.push_back({from, to, sign});
      });
  return joined;
}

/// The time nearest to `from` in the direction where the line passes a level.
double passing_s(const Line& line, std::size_t from, int direction, double level_V,
                 std::size_t limit) {
  std::size_t i = from;
  while (i != limit) {
    const std::size_t next = direction > 0 ? i + 1 : i - 1;
    if ((line.v_V[i] - level_V) * (line.v_V[next] - level_V) <= 0.0 &&
        line.v_V[i] != line.v_V[next])
      return line.t_s[i] + (level_V - line.v_V[i]) / (line.v_V[next] - line.v_V[i]) *
                               (line.t_s[next] - line.t_s[i]);
    i = next;
  }
  return line.t_s[limit];
}

}  // namespace

std::vector<FoundEdge> edges_of(const Waveform& waveform) {
  require_defined(waveform);
  std::vector<FoundEdge> out;
  if (waveform.corners.size() < 2) return out;
  const Line line(waveform);
  const auto [low, high] = std::minmax_element(line.v_V.begin(), line.v_V.end());
  const double range_V = *high - *low;
  if (!(range_V > 0.0)) return out;
  const std::vector<Stretch> stretches = steep_stretches(line, range_V);

  const double period_s = waveform.period.value();
  for (std::size_t k = 1; k + 1 < stretches.size(); ++k) {
    const Stretch &before = stretches[k - 1], &now = stretches[k], &after = stretches[k + 1];
    const auto level = [&](const Stretch& left, const Stretch& right) {
      const double from_s = line.t_s[left.last], to_s = line.t_s[right.first];
      return line.mean(0.5 * (from_s + to_s), to_s);
    };
    const double from_V = level(before, now), to_V = level(now, after), step_V = to_V - from_V;
    if (!(step_V * now.sign >= least_share * range_V)) continue;
    const double half_s = passing_s(line, now.first, +1, from_V + 0.5 * step_V, now.last);
    if (half_s < period_s || half_s >= 2.0 * period_s) continue;
    const std::size_t middle = line.piece_of(half_s);
    const double tenth_s = passing_s(line, middle + 1, -1, from_V + 0.1 * step_V, before.last);
    const double most_s = passing_s(line, middle, +1, from_V + 0.9 * step_V, after.first);
    out.push_back({.middle = Time::from_value(half_s - period_s),
                   .step = Voltage::from_value(step_V),
                   .rise = Time::from_value(most_s - tenth_s),
                   .pieces = int(line.piece_of(most_s) - line.piece_of(tenth_s)) + 1});
  }
  return out;
}

}  // namespace ohmdrag::voltage

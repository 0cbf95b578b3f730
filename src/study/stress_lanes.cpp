#include "study/stress_lanes.hpp"

#include <cmath>
#include <limits>

#include "ohmdrag/numerics/lane_math.hpp"
#include "study/stress_grid.hpp"

namespace ohmdrag::study {

using numerics::LaneMath;
using numerics::lanes;
using numerics::LaneWidth;

namespace {

constexpr double to_nearest = 0x1.8p52;  // adding it leaves the nearest integer
constexpr double not_known = std::numeric_limits<double>::quiet_NaN();

struct alignas(64) LaneIndices {
  int of[lanes];
};

/// Column below each stretch, and the place between it and the next.
struct ColumnPlaces {
  LaneRow column, along;
};

[[gnu::always_inline]] inline void place(const std::vector<double>& grid, const double* speed_rad_s,
                                         ColumnPlaces& found) {
  for (double& column : found.column.of) column = 0.0;
  for (std::size_t c = 1; c + 1 < grid.size(); ++c) {
    const double here = grid[c];
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      found.column.of[i] += speed_rad_s[i] >= here ? 1.0 : 0.0;
  }
  const double* const speeds = grid.data();
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    const int column = static_cast<int>(found.column.of[i]);
    const double from = speeds[column], to = speeds[column + 1];
    const double any = (speed_rad_s[i] - from) / (to - from);
    const double not_below = any > 0.0 ? any : 0.0;
    found.along.of[i] = not_below < 1.0 ? not_below : 1.0;
  }
}

}  // namespace

/// A StressTable as plain numbers.
struct StressLanes::Table {
  const double* points;  ///< log_V, log_s of [column][row]
  const double* log_resistance;
  double first, step;  ///< of the logarithm of the capacitance
  double rows;
  bool one_column;

  explicit Table(const StressTable& of)
      : points(&of.points_.front().log_V),
        log_resistance(of.log_resistance_.data()),
        first(of.log_capacitance_.front()),
        step(of.log_capacitance_[1] - of.log_capacitance_[0]),
        rows(double(of.log_capacitance_.size())),
        one_column(of.speed_rad_s_.size() == 1) {
    static_assert(sizeof(StressTable::Point) == 2 * sizeof(double));
  }

  /// StressTable::at(); not a number where a point was not solved.
  /// \param durations  false: one_over() of the stress stays as it is
  [[gnu::always_inline]] void look_up(const LaneRow& log_capacitance, const ColumnPlaces& places,
                                      bool durations, LaneStress& found) const {
    const double per_step = 1.0 / step, last_x = rows - 1.0, last_first = rows - 3.0;
    // A table of one column has no next one: it is read twice.
    const double of_column = one_column ? 0.0 : rows;
    const std::ptrdiff_t next = one_column ? 0 : 2 * static_cast<std::ptrdiff_t>(rows);
    const double* const all = points;
    const double of_first = first;
    LaneRow down, first_row;
    LaneIndices points_at;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double any = (log_capacitance.of[i] - of_first) * per_step;
      const double not_below = any > 0.0 ? any : 0.0;
      const double x = not_below < last_x ? not_below : last_x;
      // The rows around and the nearest beside them: those around the nearest row.
      const double any_row = ((x - 1.0) + to_nearest) - to_nearest;
      const double row_not_below = any_row > 0.0 ? any_row : 0.0;
      const double row = row_not_below < last_first ? row_not_below : last_first;
      down.of[i] = x - row;
      first_row.of[i] = of_column * places.column.of[i] + row;
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) points_at.of[i] = 2 * static_cast<int>(first_row.of[i]);
    const double *const here_0 = all, *const here_1 = all + 2, *const here_2 = all + 4;
    const double *const there_0 = here_0 + next, *const there_1 = here_1 + next,
                        *const there_2 = here_2 + next;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double x = down.of[i];
      const double w0 = 0.5 * (x - 1.0) * (x - 2.0), w1 = x * (2.0 - x), w2 = 0.5 * x * (x - 1.0);
      const int point = points_at.of[i];
      const double here_V =
          LaneMath::exp(w2 * here_2[point] + w1 * here_1[point] + w0 * here_0[point]);
      const double there_V =
          LaneMath::exp(w2 * there_2[point] + w1 * there_1[point] + w0 * there_0[point]);
      found.voltage_V.of[i] = here_V + places.along.of[i] * (there_V - here_V);
    }
    if (!durations) return;
    const double* const resistance = log_resistance;
    const double of_next = one_column ? 0.0 : 1.0;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double skipped = down.of[i] > 1.0 ? 1.0 : 0.0;  // rows before the ones around
      down.of[i] -= skipped;
      first_row.of[i] += skipped;
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      points_at.of[i] = 2 * static_cast<int>(first_row.of[i]) + 1;
    LaneRow course;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const int column = static_cast<int>(of_next * places.column.of[i]);
      const double change = resistance[column + static_cast<int>(of_next)] - resistance[column];
      // A time constant goes with capacitance and resistance at most; what moves more jumps.
      course.of[i] = step + (change < 0.0 ? -change : change);
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double share = down.of[i], along = places.along.of[i];
      const int point = points_at.of[i];
      const double a = here_0[point], b = here_1[point], c = there_0[point], d = there_1[point];
      const double ab_low = a < b ? a : b, ab_high = a < b ? b : a;
      const double cd_low = c < d ? c : d, cd_high = c < d ? d : c;
      const double shortest = ab_low < cd_low ? ab_low : cd_low;
      const double longest = ab_high < cd_high ? cd_high : ab_high;
      const double upper = a + share * (b - a), lower = c + share * (d - c);
      const double between = upper + along * (lower - upper);
      const double log_s =
          longest - shortest > course.of[i] + StressTable::extra_log ? longest : between;
      found.per_root_duration.of[i] = LaneMath::exp(-0.5 * log_s);
    }
  }
};

StressLanes::StressLanes(const StressGrid& grid, Capacitance winding_rotor)
    : grid_(&grid), winding_rotor_(winding_rotor) {}

void StressLanes::find(const double* speed_rad_s, LaneWidth width, StrikeBlock& block) const {
  const StressGrid& grid = *grid_;
  const Table rising(grid.rising_), held(grid.held_);
  const bool alike = grid.same_edges();
  const Table falling(alike ? grid.rising_ : grid.falling_);
  const bool recorded = !grid.source_->measured_edges().empty();
  // Edges have columns of their own, fewer where the path does not move far.
  const std::vector<double>&edge_speeds = grid.rising_.speed_rad_s_,
        &held_speeds = grid.held_.speed_rad_s_;
  const double last_log_F = grid.last_log_capacitance_, last_rad_s = grid.last_speed_rad_s_;
  const double held_root =
      recorded ? 0.0
               : 1.0 / std::sqrt(voltage::hold_duration(grid.source_->source().carrier).value());
  double unknown = 0.0;
  const auto look_up = [&] {
    LaneRow log_F;
    ColumnPlaces at_edges, at_held;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      log_F.of[i] = LaneMath::log(block.total_F.of[i]);
      block.held.per_root_duration.of[i] = held_root;
      at_edges.column.of[i] = at_edges.along.of[i] = 0.0;
      at_held.column.of[i] = at_held.along.of[i] = 0.0;
    }
    if (edge_speeds.size() > 1) place(edge_speeds, speed_rad_s, at_edges);
    if (held_speeds.size() > 1) place(held_speeds, speed_rad_s, at_held);
    rising.look_up(log_F, at_edges, true, block.rising);
    if (!alike) falling.look_up(log_F, at_edges, true, block.falling);
    held.look_up(log_F, at_held, recorded, block.held);
    double any = 0.0;
#pragma omp simd reduction(max : any)
    for (std::size_t i = 0; i < lanes; ++i) {
      const double known = (log_F.of[i] > last_log_F ? not_known : 0.0) +
                           (speed_rad_s[i] > last_rad_s ? not_known : 0.0) +
                           block.rising.voltage_V.of[i] + block.held.voltage_V.of[i] +
                           (alike ? 0.0 : block.falling.voltage_V.of[i]);
      const double asked = known == known ? 0.0 : 1.0;
      const double counts = block.live_s.of[i] > 0.0 ? asked : 0.0;
      // The mark of what has to be solved.
      block.held.voltage_V.of[i] = asked > 0.0 ? not_known : block.held.voltage_V.of[i];
      any = counts > any ? counts : any;
    }
    unknown = any;
  };
  const auto for_unknown = [&](const auto& each) {
    for (std::size_t i = 0; i < lanes; ++i)
      if (std::isnan(block.held.voltage_V.of[i]) && block.live_s.of[i] > 0.0)
        each(i, voltage::ShaftNode{winding_rotor_, Capacitance::from_value(block.total_F.of[i])},
             AngularVelocity::from_value(speed_rad_s[i]));
  };
  numerics::run_at_width(width, look_up);
  if (!(unknown > 0.0)) return;
  for_unknown([&](std::size_t, const voltage::ShaftNode& node, AngularVelocity speed) {
    grid.prepare(node, speed);
  });
  numerics::run_at_width(width, look_up);
  if (!(unknown > 0.0)) return;
  // Beyond the tables.
  for_unknown([&](std::size_t i, const voltage::ShaftNode& node, AngularVelocity speed) {
    const ShaftStresses stresses = grid.at(node, speed);
    const auto set = [i](const voltage::Stress& stress, LaneStress& row) {
      row.voltage_V.of[i] = stress.voltage.value();
      row.per_root_duration.of[i] = 1.0 / std::sqrt(stress.duration.value());
    };
    set(stresses.rising, block.rising);
    set(stresses.falling, block.falling);
    set(stresses.held, block.held);
  });
}

}  // namespace ohmdrag::study

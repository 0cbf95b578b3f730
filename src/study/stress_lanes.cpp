#include "study/stress_lanes.hpp"

#include <algorithm>
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

/// ColumnPlaces of one block.
struct RowPlaces {
  const double *column, *along;
};

[[gnu::always_inline]] inline void place(const std::vector<double>& grid, const double* speed_rad_s,
                                         double* columns, double* along) {
  std::fill(columns, columns + lanes, 0.0);
  for (std::size_t c = 1; c + 1 < grid.size(); ++c) {
    const double here = grid[c];
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) columns[i] += speed_rad_s[i] >= here ? 1.0 : 0.0;
  }
  const double* const speeds = grid.data();
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    const int column = static_cast<int>(columns[i]);
    const double from = speeds[column], to = speeds[column + 1];
    const double any = (speed_rad_s[i] - from) / (to - from);
    const double not_below = any > 0.0 ? any : 0.0;
    along[i] = not_below < 1.0 ? not_below : 1.0;
  }
}

}  // namespace

ColumnPlaces column_places(const std::vector<double>& grid, const numerics::LaneRows& speed_rad_s,
                           LaneWidth width) {
  const std::size_t blocks = speed_rad_s.rows();
  ColumnPlaces found{numerics::LaneRows(blocks), numerics::LaneRows(blocks)};
  if (grid.size() < 2) return found;
  numerics::run_at_width(width, [&] {
    for (std::size_t at = 0; at < blocks; ++at)
      place(grid, speed_rad_s[at], found.column[at], found.along[at]);
  });
  return found;
}

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
  [[gnu::always_inline]] void look_up(const LaneRow& log_capacitance, const RowPlaces& places,
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
      first_row.of[i] = of_column * places.column[i] + row;
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
      found.voltage_V.of[i] = here_V + places.along[i] * (there_V - here_V);
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
      const int column = static_cast<int>(of_next * places.column[i]);
      const double change = resistance[column + static_cast<int>(of_next)] - resistance[column];
      // A time constant goes with capacitance and resistance at most; what moves more jumps.
      course.of[i] = step + (change < 0.0 ? -change : change);
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double share = down.of[i], along = places.along[i];
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

void StressLanes::find(const numerics::LaneRows& speeds_rad_s, const ColumnPlaces& among_speeds,
                       std::size_t at, LaneWidth width, const NodeBlock& node,
                       StressBlock& stresses) const {
  const double* const speed_rad_s = speeds_rad_s[at];
  const StressGrid& grid = *grid_;
  const Table rising(grid.rising_), held(grid.held_);
  const bool alike = grid.same_edges();
  const Table falling(alike ? grid.rising_ : grid.falling_);
  const bool recorded = !grid.source_->measured_edges().empty();
  // Edges have columns of their own, fewer where the path does not move far.
  const std::vector<double>& edge_speeds = grid.rising_.speed_rad_s_;
  const double last_log_F = grid.last_log_capacitance_, last_rad_s = grid.last_speed_rad_s_;
  const double held_root =
      recorded ? 0.0
               : 1.0 / std::sqrt(voltage::hold_duration(grid.source_->source().carrier).value());
  double unknown = 0.0;
  const auto look_up = [&] {
    LaneRow column, along;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      stresses.held.per_root_duration.of[i] = held_root;
      column.of[i] = along.of[i] = 0.0;
    }
    if (edge_speeds.size() > 1) place(edge_speeds, speed_rad_s, column.of, along.of);
    const RowPlaces at_edges{column.of, along.of};
    const RowPlaces at_held =
        recorded ? at_edges : RowPlaces{among_speeds.column[at], among_speeds.along[at]};
    rising.look_up(node.log_F, at_edges, true, stresses.rising);
    if (!alike) falling.look_up(node.log_F, at_edges, true, stresses.falling);
    held.look_up(node.log_F, at_held, recorded, stresses.held);
    double any = 0.0;
#pragma omp simd reduction(max : any)
    for (std::size_t i = 0; i < lanes; ++i) {
      const double known = (node.log_F.of[i] > last_log_F ? not_known : 0.0) +
                           (speed_rad_s[i] > last_rad_s ? not_known : 0.0) +
                           stresses.rising.voltage_V.of[i] + stresses.held.voltage_V.of[i] +
                           (alike ? 0.0 : stresses.falling.voltage_V.of[i]);
      const double asked = known == known ? 0.0 : 1.0;
      const double counts = node.live_s.of[i] > 0.0 ? asked : 0.0;
      // The mark of what has to be solved.
      stresses.held.voltage_V.of[i] = asked > 0.0 ? not_known : stresses.held.voltage_V.of[i];
      any = counts > any ? counts : any;
    }
    unknown = any;
  };
  const auto for_unknown = [&](const auto& each) {
    for (std::size_t i = 0; i < lanes; ++i)
      if (std::isnan(stresses.held.voltage_V.of[i]) && node.live_s.of[i] > 0.0)
        each(i, voltage::ShaftNode{winding_rotor_, Capacitance::from_value(node.total_F.of[i])},
             AngularVelocity::from_value(speed_rad_s[i]));
  };
  numerics::run_at_width(width, look_up);
  if (!(unknown > 0.0)) return;
  for_unknown([&](std::size_t, const voltage::ShaftNode& of, AngularVelocity speed) {
    grid.prepare(of, speed);
  });
  numerics::run_at_width(width, look_up);
  if (!(unknown > 0.0)) return;
  // Beyond the tables.
  for_unknown([&](std::size_t i, const voltage::ShaftNode& of, AngularVelocity speed) {
    const ShaftStresses solved = grid.at(of, speed);
    const auto set = [i](const voltage::Stress& stress, LaneStress& row) {
      row.voltage_V.of[i] = stress.voltage.value();
      row.per_root_duration.of[i] = 1.0 / std::sqrt(stress.duration.value());
    };
    set(solved.rising, stresses.rising);
    set(solved.falling, stresses.falling);
    set(solved.held, stresses.held);
  });
}

}  // namespace ohmdrag::study

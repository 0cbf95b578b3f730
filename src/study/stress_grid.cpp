#include "study/stress_grid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"
#include "ohmdrag/voltage/periodic_response.hpp"

namespace ohmdrag::study {
namespace {

/// The grid spans thick films (bearings add nothing) to bearings that hold three times the rest.
constexpr double widest_capacitance = 4.0;
/// Edges are quickly solved, but their durations jump; what is held takes longer.
constexpr int edge_rows = 7, held_rows = 5;
/// Where the path alone matters, the logarithm of its resistance moves by no more from column to
/// column than where the speed sets their distance anyway: between them an edge follows a line to
/// 1e-4.
constexpr double same_path_log = 0.05;
/// Below, a voltage says nothing but "none", the others nothing at all.
constexpr double least_V = 1e-6, least_s = 1e-12, least_ohm = 1e-12;

constexpr double not_solved = std::numeric_limits<double>::quiet_NaN();

/// Index of the cell and place within it; the ends hold beyond the grid.
std::pair<std::size_t, double> cell(const std::vector<double>& grid, double x) {
  if (x <= grid.front() || grid.size() == 1) return {0, 0.0};
  if (x >= grid.back()) return {grid.size() - 2, 1.0};
  const auto above = std::upper_bound(grid.begin(), grid.end(), x);
  const auto i = static_cast<std::size_t>(above - grid.begin()) - 1;
  return {i, (x - grid[i]) / (grid[i + 1] - grid[i])};
}

std::vector<double> log_capacitances(const voltage::ShaftNode& least, int count) {
  std::vector<double> result;
  for (int row = 0; row < count; ++row)
    result.push_back(std::log(least.total.value()) +
                     row * std::log(widest_capacitance) / (count - 1));
  return result;
}

/// Without the columns between whose neighbours neither path nor speed moves far.
std::vector<StressTable::Column> columns_of_path(const std::vector<StressTable::Column>& all) {
  const double widest = all.back().speed_rad_s / columns_up_to_top;
  std::vector<StressTable::Column> result{all.front()};
  for (std::size_t i = 1; i < all.size(); ++i) {
    const bool last = i + 1 == all.size();
    const StressTable::Column& next = all[last ? i : i + 1];
    const StressTable::Column& before = result.back();
    if (last || next.speed_rad_s - before.speed_rad_s > widest ||
        std::abs(next.log_resistance - before.log_resistance) > same_path_log)
      result.push_back(all[i]);
  }
  return result;
}

}  // namespace

voltage::Stress ShaftStresses::edge(int legs) const {
  const voltage::Stress& higher = rising.voltage >= falling.voltage ? rising : falling;
  return {double(legs) * higher.voltage, higher.duration};
}

StressTable::StressTable(std::vector<double> log_capacitance, std::vector<Column> columns,
                         Solution solution, bool lets_go)
    : log_capacitance_(std::move(log_capacitance)),
      columns_(std::move(columns)),
      solution_(std::move(solution)),
      lets_go_(lets_go),
      points_(log_capacitance_.size() * columns_.size(), {not_solved, not_solved}) {
  for (const Column& column : columns_) {
    speed_rad_s_.push_back(column.speed_rad_s);
    log_resistance_.push_back(column.log_resistance);
  }
}

const StressTable::Point& StressTable::point(std::size_t row, std::size_t column) const {
  const std::size_t rows = log_capacitance_.size();
  Point& here = points_[column * rows + row];
  if (!std::isnan(here.log_V)) return here;
  if (lets_go_ && row + 1 < rows) {
    const Point& larger = points_[column * rows + row + 1];
    if (larger.log_V == std::log(least_V)) return here = larger;
  }
  const voltage::Stress stress = solution_(log_capacitance_[row], columns_[column]);
  here = {std::log(std::max(stress.voltage.value(), least_V)),
          std::log(std::max(stress.duration.value(), least_s))};
  return here;
}

StressTable::Place StressTable::place(double log_capacitance, double speed_rad_s) const {
  const auto [row, down] = cell(log_capacitance_, log_capacitance);
  const auto [column, along] = cell(speed_rad_s_, speed_rad_s);
  // All rows at one distance.
  const std::size_t last = log_capacitance_.size() - 1;
  const bool from_above = row > 0 && (down < 0.5 || row + 1 == last);
  return {.row = row,
          .column = column,
          .down = down,
          .along = along,
          .next = std::min(column + 1, speed_rad_s_.size() - 1),
          .first = from_above ? row - 1 : row};
}

void StressTable::prepare(double log_capacitance, double speed_rad_s) const {
  const Place here = place(log_capacitance, speed_rad_s);
  for (const std::size_t column : {here.column, here.next})
    for (std::size_t i = rows_read; i-- > 0;)  // the largest capacitance may spare the others
      point(here.first + i, column);
}

voltage::Stress StressTable::at(double log_capacitance, double speed_rad_s) const {
  const Place here = place(log_capacitance, speed_rad_s);
  const double x = static_cast<double>(here.row - here.first) + here.down;
  const std::array<double, rows_read> weights{0.5 * (x - 1.0) * (x - 2.0), x * (2.0 - x),
                                              0.5 * x * (x - 1.0)};
  const auto voltage_V = [&](std::size_t in_column) {
    double log_V = 0.0;
    for (std::size_t i = rows_read; i-- > 0;)
      log_V += weights[i] * point(here.first + i, in_column).log_V;
    return std::exp(log_V);
  };
  const double here_V = voltage_V(here.column);
  const double v_V =
      here.next == here.column ? here_V : std::lerp(here_V, voltage_V(here.next), here.along);

  const std::array corners{point(here.row, here.column).log_s,
                           point(here.row + 1, here.column).log_s, point(here.row, here.next).log_s,
                           point(here.row + 1, here.next).log_s};
  const auto [shortest, longest] = std::ranges::minmax(corners);
  // A time constant goes with capacitance and resistance at most; what moves more jumps.
  const double course = log_capacitance_[1] - log_capacitance_[0] +
                        std::abs(log_resistance_[here.next] - log_resistance_[here.column]);
  const bool jumps = longest - shortest > course + extra_log;
  const double log_s = jumps ? longest
                             : std::lerp(std::lerp(corners[0], corners[1], here.down),
                                         std::lerp(corners[2], corners[3], here.down), here.along);
  return {Voltage::from_value(v_V), Time::from_value(std::exp(log_s))};
}

StressGrid::StressGrid(const SourceInDraw& source, const voltage::ShaftNode& least,
                       PathOverSpeed path)
    : in_draw_(&source),
      source_(&source.model),
      path_(std::move(path)),
      speeds_(source.speeds.get()),
      open_(!path_(AngularVelocity{})) {
  if (open_)
    of_unit_ = solved_alone({least.winding_rotor, least.winding_rotor}, {}, CarrierLayout::for_one);
  else
    fill(least);
}

void StressGrid::fill(const voltage::ShaftNode& least) {
  std::vector<StressTable::Column> columns;
  for (const double speed_rad_s : speeds_->rad_s()) {
    const auto& path = paths_.emplace_back(path_(AngularVelocity::from_value(speed_rad_s)));
    columns.push_back({speed_rad_s,
                       std::log(std::max(voltage::direct_resistance(*path).value(), least_ohm)),
                       columns.size()});
  }
  last_log_capacitance_ = std::log(widest_capacitance * least.total.value());
  last_speed_rad_s_ = columns.back().speed_rad_s;
  // A path that running does not change leaves the same of an edge at every speed.
  const bool same_path = std::ranges::all_of(columns, [&](const StressTable::Column& column) {
    return column.log_resistance == columns.front().log_resistance;
  });
  const auto table = [&](int rows, const std::vector<StressTable::Column>& of_columns, bool lets_go,
                         const auto& stress) {
    return StressTable(
        log_capacitances(least, rows), of_columns,
        [winding_rotor = least.winding_rotor, stress](double log_capacitance,
                                                      const StressTable::Column& column) {
          return stress(
              voltage::ShaftNode{winding_rotor, Capacitance::from_value(std::exp(log_capacitance))},
              column);
        },
        lets_go);
  };
  const std::vector<StressTable::Column> path_columns =
      same_path ? std::vector{columns.front()} : columns_of_path(columns);
  const auto edges = [&](bool rises) {
    return table(edge_rows, path_columns, false,
                 [this, rises](const voltage::ShaftNode& node, const StressTable::Column& column) {
                   return edge(node, paths_[column.speed], rises);
                 });
  };
  rising_ = edges(true);
  if (!same_edges()) falling_ = edges(false);
  // Where a large node has let go, a smaller one has long before. The modulation has no part in a
  // record.
  const bool recorded = !source_->measured_edges().empty();
  held_ =
      table(held_rows, recorded ? path_columns : columns, true,
            [this, recorded](const voltage::ShaftNode& node, const StressTable::Column& column) {
              const voltage::MaybePath& path = paths_[column.speed];
              if (recorded) return of_record(node, path).held;
              return voltage::Stress{
                  voltage::held_after_discharge(node, path, speeds_->places(column.speed_rad_s)),
                  voltage::hold_duration(source_->source().carrier)};
            });
}

bool StressGrid::same_edges() const {
  return !source_->measured_edges().empty() || source_->source().rise == source_->source().fall;
}

voltage::Stress StressGrid::edge(const voltage::ShaftNode& node, const voltage::MaybePath& path,
                                 bool rises) const {
  if (!source_->measured_edges().empty()) return of_record(node, path).rising;
  const voltage::InverterSource& source = source_->source();
  const Time ramp = rises ? source.rise : source.fall;
  const Voltage step = voltage::edge_step(source.dc_link, 1);
  const Time until = voltage::hold_duration(source.carrier);
  return source.ringing
             ? voltage::edge_stress_with_ringing(node, path, step, ramp, *source.ringing, until)
             : voltage::edge_stress(node, path, step, ramp, until);
}

ShaftStresses StressGrid::share_of_unit(const voltage::ShaftNode& node) const {
  const double ratio = voltage::bearing_voltage_ratio(node);
  const auto share_of = [&](const voltage::Stress& whole) {
    return voltage::Stress{ratio * whole.voltage, whole.duration};
  };
  return {share_of(of_unit_.rising), share_of(of_unit_.falling), share_of(of_unit_.held)};
}

ShaftStresses StressGrid::solved(const voltage::ShaftNode& node, AngularVelocity speed,
                                 CarrierLayout layout) const {
  return open_ ? share_of_unit(node) : solved_alone(node, speed, layout);
}

ShaftStresses StressGrid::solved_alone(const voltage::ShaftNode& node, AngularVelocity speed,
                                       CarrierLayout layout) const {
  const voltage::MaybePath path = path_(speed);
  if (!source_->measured_edges().empty()) return of_record(node, path);
  const voltage::Stress rising = edge(node, path, true);
  const Voltage held =
      layout == CarrierLayout::kept
          ? voltage::held_after_discharge(node, path, in_draw_->places(speed))
          : voltage::held_after_discharge(node, path, source_->carrier(source_->modulation(speed)));
  return {rising,
          same_edges() ? rising : edge(node, path, false),
          {held, voltage::hold_duration(source_->source().carrier)}};
}

/// What is held is read right before each edge, its swing is what a discharge at one end leaves
/// before another. What passes the shaft at an edge, oscillations and all, is at most the swing of
/// the whole course.
ShaftStresses StressGrid::of_record(const voltage::ShaftNode& node,
                                    const voltage::MaybePath& path) const {
  const auto& edges = source_->measured_edges();
  const voltage::Waveform record = source_->waveform(0.0, 0.0);
  const voltage::PeriodicResponse shaft(node, path, record);
  const auto before = [&](const voltage::FoundEdge& edge) {
    return shaft.at(edge.middle - edge.rise).value();
  };
  double low = before(edges.front()), high = low;
  for (const voltage::FoundEdge& edge : edges) {
    low = std::min(low, before(edge));
    high = std::max(high, before(edge));
  }
  const auto& largest = std::ranges::max(
      edges, {}, [](const voltage::FoundEdge& edge) { return std::abs(edge.step.value()); });
  const Time until = record.period / double(edges.size());
  const voltage::Stress alone = voltage::edge_stress(node, path, largest.step, largest.rise,
                                                     std::max(until, 2.0 * largest.rise));
  // Without a path every voltage stands: the step alone passes at an edge, the swing is held.
  const Voltage highest = path ? shaft.largest().magnitude : Voltage{};
  const voltage::Stress passing{std::max(alone.voltage, highest), alone.duration};
  return {passing, passing, {Voltage::from_value(high - low), until}};
}

/// Bearings that outweigh the machine (thin films, small rotors) are rare: solved, not held.
bool StressGrid::holds(double log_total, double turning_rad_s) const {
  return !(log_total > last_log_capacitance_ || turning_rad_s > last_speed_rad_s_);
}

void StressGrid::prepare(const voltage::ShaftNode& node, AngularVelocity speed) const {
  const double log_total = std::log(node.total.value()), turning = std::abs(speed.value());
  if (open_ || !holds(log_total, turning)) return;
  rising_.prepare(log_total, turning);
  if (!same_edges()) falling_.prepare(log_total, turning);
  held_.prepare(log_total, turning);
}

ShaftStresses StressGrid::at(const voltage::ShaftNode& node, AngularVelocity speed) const {
  if (open_) return share_of_unit(node);
  const double log_total = std::log(node.total.value()), turning = std::abs(speed.value());
  if (!holds(log_total, turning)) return solved(node, speed);
  const voltage::Stress rising = rising_.at(log_total, turning);
  return {rising, same_edges() ? rising : falling_.at(log_total, turning),
          held_.at(log_total, turning)};
}

}  // namespace ohmdrag::study

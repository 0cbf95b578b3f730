#pragma once

#include <functional>
#include <vector>

#include "ohmdrag/voltage/edge_response.hpp"
#include "ohmdrag/voltage/path.hpp"
#include "study/source_in_draw.hpp"

/// What the edges of the source leave on the shaft, solved ahead for the thousands of points of a
/// duty.
namespace ohmdrag::study {

/// What stands on the shaft at one node capacitance and shaft speed.
struct ShaftStresses {
  voltage::Stress rising;   ///< an edge of one leg that goes up
  voltage::Stress falling;  ///< of one that goes down
  voltage::Stress held;     ///< after a discharge: what a verdict uses

  /// The higher of rise and fall with so many legs switching together: the shaft is linear.
  voltage::Stress edge(int legs) const;
};

/// The grounding path over the speed of its shaft.
using PathOverSpeed = std::function<voltage::MaybePath(AngularVelocity)>;

/// One stress over node capacitance and shaft speed. Between its points the logarithm of the
/// voltage follows a parabola over that of the capacitance, the voltage a line over speed; the
/// logarithm of the duration follows lines over both.
///
/// Where the duration jumps between two points, as |v| falls below half of its peak between two
/// swings or no longer does, the longer one holds: it credits the pulse least.
///
/// A point is solved when it is first asked for: a table is not to be shared between threads.
class StressTable {
 public:
  struct Column {
    double speed_rad_s;
    double log_resistance;  ///< of the path
    std::size_t speed;      ///< index among all speeds
  };
  using Solution = std::function<voltage::Stress(double log_capacitance, const Column&)>;

  StressTable() = default;
  /// \param log_capacitance  at least three, rising
  /// \param columns          rising; only one where the speed moves nothing
  /// \param lets_go          a node that keeps nothing keeps nothing with less capacitance either
  StressTable(std::vector<double> log_capacitance, std::vector<Column> columns, Solution solution,
              bool lets_go);

  voltage::Stress at(double log_capacitance, double speed_rad_s) const;
  /// Solves what at() would read there.
  void prepare(double log_capacitance, double speed_rad_s) const;

 private:
  friend class StressLanes;

  /// Room for what goes a little faster than a time constant.
  static constexpr double extra_log = 0.02;
  struct Point {
    double log_V, log_s;
  };
  const Point& point(std::size_t row, std::size_t column) const;
  struct Place {
    std::size_t row, column;  ///< below
    double down, along;       ///< from there to the next
    std::size_t next;         ///< column
    std::size_t first;        ///< of the rows around and the nearest beside them
  };
  static constexpr std::size_t rows_read = 3;
  Place place(double log_capacitance, double speed_rad_s) const;

  std::vector<double> log_capacitance_, speed_rad_s_, log_resistance_;
  std::vector<Column> columns_;
  Solution solution_;
  bool lets_go_ = false;
  mutable std::vector<Point> points_;  ///< [column][row]; not a number until it is solved
};

/// Whether the carrier periods at a speed are laid out for one solution or kept for all of a draw.
enum class CarrierLayout { for_one, kept };

/// Stresses over node capacitance and shaft speed.
///
/// Limits    without a path all goes with the ratio of the node, exactly; beyond the grid it is
///           solved.
/// Accuracy  edges: voltage 1 %; duration 2 %, longer at a jump, and up to a fifth too short at one
///           too small to be told from a course. Held voltage: 10 % of the solution or of a tenth
///           of a step, whichever is more.
class StressGrid {
 public:
  /// \param least   node capacitance without any bearing
  /// \param source  must outlive this
  StressGrid(const SourceInDraw& source, const voltage::ShaftNode& least, PathOverSpeed path);
  StressGrid(const StressGrid&) = delete;  // its tables refer to it
  StressGrid& operator=(const StressGrid&) = delete;

  ShaftStresses at(const voltage::ShaftNode& node, AngularVelocity speed) const;
  /// Solves the points that at() would read, where it reads any.
  void prepare(const voltage::ShaftNode& node, AngularVelocity speed) const;
  /// What at() gives, without interpolation.
  ShaftStresses solved(const voltage::ShaftNode& node, AngularVelocity speed,
                       CarrierLayout layout = CarrierLayout::for_one) const;

  voltage::MaybePath path(AngularVelocity speed) const { return path_(speed); }
  /// No path: all goes with the ratio of the node.
  bool open() const { return open_; }
  /// What stands on a node whose ratio is 1, without a path.
  const ShaftStresses& of_unit() const { return of_unit_; }
  bool same_edges() const;  ///< rise and fall alike

 private:
  friend class StressLanes;

  void fill(const voltage::ShaftNode& least);
  voltage::Stress edge(const voltage::ShaftNode& node, const voltage::MaybePath& path,
                       bool rises) const;
  ShaftStresses of_record(const voltage::ShaftNode& node, const voltage::MaybePath& path) const;
  ShaftStresses solved_alone(const voltage::ShaftNode& node, AngularVelocity speed,
                             CarrierLayout layout) const;
  ShaftStresses share_of_unit(const voltage::ShaftNode& node) const;
  bool holds(double log_total, double turning_rad_s) const;

  const SourceInDraw* in_draw_;
  const SourceModel* source_;
  PathOverSpeed path_;
  const StressSpeeds* speeds_;
  std::vector<voltage::MaybePath> paths_;  ///< at these; none if open
  bool open_;                              ///< no path: all goes with the ratio of the node
  ShaftStresses of_unit_;                  ///< without a path on a node whose ratio is 1
  double last_log_capacitance_ = 0.0, last_speed_rad_s_ = 0.0;
  StressTable rising_, held_;
  StressTable falling_;  ///< empty where it is the rising one
};

}  // namespace ohmdrag::study

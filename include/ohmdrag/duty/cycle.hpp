#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "ohmdrag/quantity/basis.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::duty {

/// The whole of a cycle where a phase is asked for; also the one phase of a cycle without phases.
inline constexpr std::string_view whole = "whole";

/// A stretch of a cycle, from sample `first` to sample `last` inclusive; neighbours share one.
struct Phase {
  std::string id;
  std::size_t first = 0;
  std::size_t last = 0;
};

/// A published speed trace: speed is linear between the samples.
struct Cycle {
  std::string id;
  std::string title;
  std::string source;
  std::vector<Time> time;     ///< strictly rising
  std::vector<Speed> speed;   ///< not negative
  std::vector<Phase> phases;  ///< cover the whole trace
};

/// Where a phase stops.
struct PhaseEnd {
  std::string id;
  Time end;
};

/// What a table of speeds does not say about itself.
struct CycleLabel {
  std::string id;
  std::string title;
  std::string source;
  /// In order, the last at the last sample; empty: one phase, `whole`.
  std::vector<PhaseEnd> phases;
};

/// The cycle in a table of speeds over time.
///
/// First line `time_s,speed_kmh` or `time_s,speed_kmh,speed_mph`, then a row a sample, line feeds
/// alone. The third column, where there is one, is the published figure and must agree with the
/// second (1 mph = 1.609344 km/h, exact by the definition of the international mile).
///
/// \throws std::invalid_argument, with the line of the table, if a cell is no number, time does not
///         rise, a speed is negative or differs from its mph, or a phase does not end at a sample.
Cycle cycle_from_csv(std::string_view text, const CycleLabel& label);

/// The same trace with no two samples further apart than `longest`: every longer stretch is cut
/// into the fewest equal parts, on the straight line between its ends. Phases keep their ends.
/// \throws std::invalid_argument if `longest` is not positive.
Cycle refined(const Cycle& cycle, Time longest);

/// Cycles driven one after another as one: phases are named `<cycle>/<phase>`, a cycle that comes
/// again `<cycle>#2/<phase>`. A single cycle is returned as it is.
/// \throws std::invalid_argument if there is none or one starts at another speed than
///         the one before ends at.
Cycle sequence(std::span<const Cycle> cycles);

/// What a trace adds up to. Samples are those at whole seconds from its start, on the straight
/// lines between the given points.
struct CycleTotals {
  Time duration;
  Length distance;            ///< integral of the piecewise-linear trace (trapezoid)
  Length rectangle_distance;  ///< every sample times one second
  Speed checksum;             ///< sum of the samples
  Speed max;
  Speed mean;  ///< distance / duration, stops included
  std::size_t zero_samples = 0;
  double stop_share = 0.0;  ///< share of the time in stretches with zero at both ends
};

/// Totals of the whole cycle.
///
///     d = sum (v_i + v_(i-1)) / 2 (t_i - t_(i-1))
///
/// Limits    a trace that starts and ends at rest has the same distance by both rules.
/// Accuracy  exact for the piecewise-linear trace.
/// Source    UN GTR No. 15 (working text of July 2019), cycle distance; sums of the samples as
///           in its cycle identification (place in the regulation from memory).
/// \throws std::invalid_argument if there are fewer than two samples.
CycleTotals totals(const Cycle& cycle);

/// Totals of one phase, the samples at both its ends included.
/// \throws std::invalid_argument if the phase does not lie within the cycle.
CycleTotals totals(const Cycle& cycle, const Phase& phase);

enum class Total { duration, distance, checksum, max_speed, mean_speed };
/// Their words in data files, in the order of the enumeration.
inline constexpr std::array total_words{std::string_view{"duration"}, std::string_view{"distance"},
                                        std::string_view{"checksum"}, std::string_view{"max-speed"},
                                        std::string_view{"mean-speed"}};

/// Time for a duration, length for a distance, speed for the rest.
using TotalValue = std::variant<Time, Length, Speed>;

/// A total that somebody outside this project printed.
struct PublishedTotal {
  std::string phase;  ///< phase id or `whole`
  Total total = Total::duration;
  TotalValue value;
  TotalValue tolerance;
  Basis basis = Basis::unverified;
  std::string source;
};

/// A published total that the trace misses.
struct Mismatch {
  PublishedTotal published;
  TotalValue found;
  std::string text;  ///< phase, total, both figures and the tolerance in a sentence
};

/// The published totals that the trace misses; empty if it keeps them all. Catches a corrupted
/// table: one digit of a sample moves the checksum, one of a time stamp the distance.
/// \throws std::invalid_argument if a phase is unknown or a value has another unit than its total.
std::vector<Mismatch> mismatches(const Cycle& cycle, std::span<const PublishedTotal> published);

}  // namespace ohmdrag::duty

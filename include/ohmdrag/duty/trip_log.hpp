#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/duty/cycle.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Measured trips: a speed over time that somebody logged, with the defects that logs have.
namespace ohmdrag::duty {

/// Unit word of a time column that holds date-times, "2031-04-05T06:07:08.5+02:00": ISO 8601
/// (extended form, `T` or a blank between the halves, seconds and offset may be missing). Without
/// an offset all stamps are taken as of one clock.
inline constexpr std::string_view date_time_unit = "ISO 8601";

/// A column of a log as its header names it, and the unit of its numbers.
struct TripColumn {
  std::string name;
  std::string unit;  ///< a spelling of the unit table; for time also `date_time_unit`
};

struct TripColumns {
  TripColumn time;
  TripColumn speed;  ///< of the vehicle
  std::optional<TripColumn> shaft_speed;
  std::optional<TripColumn> torque;
  std::optional<TripColumn> sump_temperature;
  std::optional<TripColumn> ambient_temperature;
  std::optional<TripColumn> heat = {};  ///< into the sump, of a run on a rig
};

/// How a log is written.
struct TripForm {
  TripColumns columns;
  /// Between columns. None: tab, semicolon or comma, whichever finds most columns in the header.
  std::optional<char> separator = {};
  /// Decimal mark. None: the first point or comma within a number decides for the whole log.
  std::optional<char> decimal = {};
  /// A log without a speed column, of a rig or of a standing vehicle: the speed is zero throughout.
  bool standing = false;
};

/// Samples without a long gap between them; speed is linear between two.
struct TripPiece {
  std::vector<Time> time;    ///< strictly rising, from the first sample of the log
  std::vector<Speed> speed;  ///< not negative
  // As long as `time`, or empty without such a column.
  std::vector<AngularVelocity> shaft_speed;
  std::vector<Torque> torque;
  std::vector<Temperature> sump_temperature;
  std::vector<Temperature> ambient_temperature;
  std::vector<Power> heat = {};
};

/// A step longer than this many median steps, and longer than `shortest_gap`, is a gap.
/// Source of these limits: common practice, no source.
inline constexpr double gap_in_medians = 3.0;
inline constexpr double shortest_gap_s = 2.0;
/// A longer gap splits the log.
inline constexpr double longest_bridge_s = 10.0;
/// A longer median step is flagged; derived: the distance of a 1 Hz cycle is then 0.03 % wrong, the
/// integral of the cube of its speed 0.4 %.
inline constexpr double coarse_step_s = 5.0;
/// A longer median step is refused; derived: once in 20 s the distance of a 1 Hz cycle is 1.7 %
/// wrong, the integral of the cube of its speed 4 %.
inline constexpr double coarsest_step_s = 30.0;

struct TripGap {
  Time start;  ///< from the first sample of the log
  Time length;
  bool bridged = false;  ///< by a straight line of the speed; else the log is split there
};

/// What a log was found to be.
struct TripReport {
  std::size_t samples = 0;       ///< after duplicates were merged
  std::size_t duplicates = 0;    ///< rows merged, by mean, into the one before of the same time
  std::size_t lone_samples = 0;  ///< between two long gaps: without duration, left out
  Time duration;                 ///< first to last sample, gaps included
  Time median_step;
  std::vector<TripGap> gaps;
  double bridged_share = 0.0;  ///< of the duration
  double covered_share = 0.0;  ///< of the duration: what the pieces last, bridged gaps included
  Length distance;             ///< of the pieces, trapezoid
  Speed checksum;              ///< sum of the samples
  Speed speed_step;            ///< smallest difference of two rows; zero if the speed never changes
  /// Standard uncertainty of the distance from that step alone, q/sqrt(12) sqrt(sum w_i^2) with the
  /// trapezoid's weights w_i: rounding errors are independent.
  Length distance_rounding;
  bool coarse = false;          ///< median step above `coarse_step_s`
  bool without_offset = false;  ///< date-times that name no offset from UTC
};

/// The report in one sentence.
std::string in_words(const TripReport& report);

struct Trip {
  TripReport report;
  std::vector<TripPiece> pieces;  ///< in order of time, each of two samples or more
};

/// Why a log is refused. what() says row and column too.
class TripError : public std::invalid_argument {
 public:
  /// \param line  of the file, from 1; 0: the log as a whole
  TripError(std::size_t line, std::string column, const std::string& what);
  std::size_t line() const { return line_; }
  const std::string& column() const { return column_; }

 private:
  std::size_t line_;
  std::string column_;
};

/// Reads one log after another from text that arrives in pieces of any size.
///
/// Form      first line that is neither blank nor a comment: names of the columns, in any order,
///           others ignored; then a row a sample, steps of any length. Lines end with a line feed
///           or a carriage return and a line feed; blank lines, rows of separators alone and lines
///           that begin with # are skipped; cells may stand in double quotes; a byte-order mark is
///           skipped.
/// Mended    rows of equal time (merged by mean), short gaps (bridged), long gaps (split): all
///           counted in the report.
/// Refused   a missing or doubled column, a row with too few or too many cells, a cell that is no
///           finite number, time that runs backwards, a negative speed, fewer than two samples,
///           a median step above `coarsest_step_s`.
/// Limits    a log without defects gives one piece with the numbers as they stand.
/// Accuracy  distance exact for the piecewise-linear speed; times to 1e-6 s.
/// Source    trapezoid: UN GTR No. 15 (working text of July 2019), cycle distance; cells in quotes:
///           RFC 4180; date-times: ISO 8601 (from memory); rules for gaps and steps: common
///           practice, no source.
///
/// Memory holds the samples of one log.
class TripReader {
 public:
  /// \throws std::invalid_argument if a unit is none of its quantity, two quantities name one
  ///         column, or separator or decimal mark is none.
  explicit TripReader(TripForm form);
  ~TripReader();
  TripReader(TripReader&&) noexcept;
  TripReader& operator=(TripReader&&) noexcept;

  /// \throws TripError for what is refused; the reader is then ready for another log.
  void feed(std::string_view text);
  /// The log that was fed; the reader is then ready for another.
  /// \throws TripError for what is refused.
  Trip finish();
  /// Forgets what was fed.
  void clear();

 private:
  struct Log;
  std::unique_ptr<Log> log_;
};

/// The trip in a text that is there as a whole.
/// \throws as TripReader.
Trip trip_from_csv(std::string_view text, const TripForm& form);

/// A piece as a cycle of one phase, `whole`.
Cycle cycle_of(const TripPiece& piece, const std::string& id);

}  // namespace ohmdrag::duty

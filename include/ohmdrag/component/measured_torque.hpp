#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::component {

/// One point of a drag measurement.
struct MeasuredTorqueRow {
  AngularVelocity speed;  ///< >= 0
  Torque torque;          ///< >= 0, drag
  /// Of whatever the run names (oil, housing). All rows have one or none has.
  std::optional<Temperature> temperature;
};

/// What happens to a point that was not measured.
enum class BeyondTable {
  hold,   ///< value at the end of the table, flagged
  refuse  ///< std::domain_error
};

struct MeasuredDrag {
  Torque torque;  ///< sign of the speed; at rest that of the lowest measured speed
  Power power;    ///< never negative; 0 at rest
  std::vector<numerics::RangeFlag> flags;
};

/// Drag torque as it was measured over speed, and over temperature if the rows name one.
///
/// Rows of one temperature make a curve: a piecewise cubic whose slopes are limited so that it
/// rises and falls only where the data do, and never leaves the values of its two neighbours. With
/// two or three rows the curve is made of straight lines. Between two curves the torque is linear
/// in temperature at equal speed.
///
/// Sign: torque has that of the speed, it opposes rotation; both directions alike.
///
/// Validity  the measured speeds and temperatures. Nothing is extrapolated: outside, the value at
///           the nearest end stands and is flagged, or the point is refused. A speed must lie on
///           both curves beside the temperature to count as measured.
/// Limits    at a row: that row.  At rest: power 0; never refused, because no power hangs on it.
/// Accuracy  that of the measurement at the rows.
/// Source    F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246; slopes after
///           F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304; both from
///           memory, as implemented in Boost.Math.
class MeasuredTorque {
 public:
  /// \param rows  in any order
  /// \throws std::invalid_argument for no rows, a speed, torque or temperature that is negative
  ///         or not finite, temperatures in some rows only, a curve of fewer than two speeds, or
  ///         one speed twice in a curve.
  MeasuredTorque(std::span<const MeasuredTorqueRow> rows, BeyondTable beyond);

  /// Whether the rows name temperatures.
  bool over_temperature() const;

  /// \param temperature  unused unless over_temperature()
  /// \throws std::domain_error outside the table if it refuses that.
  /// \throws std::invalid_argument for a speed, or a temperature in use, that is not finite.
  MeasuredDrag drag(AngularVelocity speed, Temperature temperature) const;

 private:
  struct Table;
  std::shared_ptr<const Table> table_;  // never changes: copies share it, from any thread
};

}  // namespace ohmdrag::component

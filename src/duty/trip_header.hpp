#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/duty/trip_log.hpp"

namespace ohmdrag::duty {

/// What a log may hold, in the order of the members of TripColumns.
enum TripQuantity : std::size_t {
  trip_time,
  trip_speed,
  trip_shaft_speed,
  trip_torque,
  trip_sump_temperature,
  trip_ambient_temperature,
  trip_heat,
  trip_quantities
};

/// One mapped column: SI = number * factor + offset.
struct TripUnit {
  std::string name;
  double factor = 1.0;
  double offset = 0.0;
  bool date_time = false;
};
using TripUnits = std::array<std::optional<TripUnit>, trip_quantities>;

/// \throws std::invalid_argument if a unit is none of its quantity or two quantities name one
///         column.
TripUnits units_of(const TripForm& form);

/// Where the mapped columns stand in the rows.
struct TripHeader {
  char separator = ',';
  /// By cell: the quantity it holds, or `trip_quantities` for none.
  std::vector<std::size_t> quantity;
};

/// \param separator  none: the one under which most mapped columns are found
/// \throws TripError at the line, with the names that are there, if a mapped column is not there
///         or stands there twice.
TripHeader header_of(std::string_view row, std::size_t line, const TripUnits& units,
                     const std::optional<char>& separator);

}  // namespace ohmdrag::duty

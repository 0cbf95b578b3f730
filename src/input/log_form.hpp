#pragma once

#include <optional>
#include <string_view>

#include "input/reader.hpp"
#include "ohmdrag/duty/trip_log.hpp"

/// How a log is written, as trips and runs on a rig say it alike.
namespace ohmdrag::input {

/// A column by its key, `speed = { name = "v", unit = "km/h" }`; complains if it is missing.
duty::TripColumn log_column(TableReader& columns, std::string_view key);
/// None where the key is not there.
std::optional<duty::TripColumn> maybe_log_column(TableReader& columns, std::string_view key);

/// What stands between columns, by the words comma, semicolon and tab; none where the key is not
/// there.
std::optional<char> log_separator(TableReader& table);
/// The decimal mark, by the words point and comma; none where the key is not there.
std::optional<char> log_decimal(TableReader& table);

}  // namespace ohmdrag::input

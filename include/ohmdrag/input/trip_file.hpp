#pragma once

#include <filesystem>
#include <vector>

#include "ohmdrag/duty/trip_log.hpp"

namespace ohmdrag::input {

/// The measured trip in a file of text, plain or compressed by gzip; which of the two, its first
/// bytes say, not its name.
///
/// Memory holds one block of the file and the samples of the trip.
///
/// \param reader  of the form the file is written in; ready for another file afterwards
/// \throws duty::TripError, without the name of the file, if it is missing, a folder, unreadable or
///         a damaged archive, and for what duty::TripReader refuses.
duty::Trip read_trip(const std::filesystem::path& file, duty::TripReader& reader);

/// The trips of a folder: its files *.csv and *.csv.gz by name, without those of folders in it. A
/// file instead of a folder stands for itself alone.
/// \throws std::filesystem::filesystem_error if there is neither.
std::vector<std::filesystem::path> trip_files(const std::filesystem::path& folder_or_file);

}  // namespace ohmdrag::input

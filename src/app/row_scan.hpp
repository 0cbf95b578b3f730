#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string>

namespace ohmdrag::app {

/// Rows of a sweep that stand in a file, however its writing ended.
struct RowsFound {
  std::string head;             ///< comments and the names of the columns
  std::size_t rows = 0;         ///< whole rows
  std::uintmax_t keep = 0;      ///< bytes from the begin that stay
  std::string pending;          ///< rows behind `keep`, as text: of a member that is not full
  std::size_t rows_in_one = 1;  ///< member
};

/// Rows of a full gzip member. Fewer would compress less, more would be lost with a kill.
inline constexpr std::size_t rows_of_member = 32;

/// Reads a file that a sweep wrote, in little memory. Plain: the last row is never counted, since a
/// kill may have cut it between two of its lines. Gzip'd: a member that is not whole is not
/// counted.
///
/// \throws std::runtime_error, without the name of the file, for one that no sweep wrote or whose
///         rows do not follow one another
RowsFound scan_rows(const std::filesystem::path& file, bool zipped);

}  // namespace ohmdrag::app

#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Cells and numbers of separated text.
namespace ohmdrag::duty {

/// A row, cell by cell, without a copy.
class CellScan {
 public:
  CellScan(std::string_view row, char separator) : rest_(row), separator_(separator) {}

  /// Whether another cell follows; an empty row has one.
  bool more() const { return more_; }
  /// The next cell without the blanks and quotes around it. Doubled quotes within stay doubled.
  /// Nothing if a quote is not closed or text follows it.
  std::optional<std::string_view> next();

 private:
  std::optional<std::string_view> quoted(std::size_t open);

  std::string_view rest_;
  char separator_;
  bool more_ = true;
};

/// The cells of a header, doubled quotes made single; empty if a quote is not closed.
std::vector<std::string> header_cells(std::string_view row, char separator);

/// A finite number, all of the cell.
/// \param decimal  its mark; 0: not known yet, then set by the first number that has one
std::optional<double> number_in(std::string_view cell, char& decimal);

/// A date-time on the scale of UTC.
struct DateTime {
  std::int64_t whole_s = 0;  ///< since 1970
  double part_s = 0.0;       ///< in [0, 1)
  bool with_offset = false;
};
/// A date-time in the extended form of ISO 8601, all of the cell.
std::optional<DateTime> date_time_in(std::string_view cell);

}  // namespace ohmdrag::duty

#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "input/reader.hpp"
#include "ohmdrag/study/case.hpp"

namespace ohmdrag::input {

/// A key that maps a column, `time = { name = "t", unit = "us" }`, or one of words,
/// `specimen = { name = "part" }`.
struct MappedColumn {
  std::string_view key;
  Dimension dimension = Dimension::ratio;
  std::span<const UnitSpelling> own_units = {};  ///< in place of the dimension's, of an angle
  bool required = true;
  bool words = false;  ///< cells are taken as they stand and have no unit
};

/// The mapped columns of a CSV file, one list a column in the order asked for.
struct ColumnTable {
  std::string file;
  std::string sha256;
  std::vector<std::vector<double>> columns;     ///< SI; empty for words and what is not mapped
  std::vector<std::vector<std::string>> words;  ///< empty for numbers and what is not mapped
  std::vector<std::string> left_out;            ///< rows, with their line and why

  std::size_t rows() const;
};

/// What becomes of a row whose cell cannot be read.
enum class BadRows {
  refuse,     ///< the table
  leave_out,  ///< and tell; more than a tenth of the rows still refuse the table
};

/// Which keys say what, and how patient to be.
struct TableForm {
  std::string_view file_key = "file";
  BadRows bad_rows = BadRows::refuse;
};

/// Reads what `{ file = "scope.csv", time = { name, unit }, voltage = { name, unit } }` says of a
/// file, and the file; adds it to the provenance. Keys of the tables that are none of these are
/// left to the caller, who calls done().
///
/// The header is the first line that names all mapped columns; what stands before it (an
/// instrument's own lines) is passed over, and so are columns that nobody maps, empty lines, lines
/// that begin with #, and a line of units below the header. Cells are separated by commas,
/// semicolons or tabs, whichever the header shows; a decimal comma is understood where commas do
/// not separate. The file may be compressed by gzip.
///
/// Complains, with the line of the file, of a file that cannot be read, a unit of another
/// dimension, a column that is missing or stands there twice, and, unless they may be left out, a
/// short row and a cell that is no finite number. Nothing after a complaint.
///
/// \param named   the table that names the file
/// \param keys    the table that maps the columns, often the same
std::optional<ColumnTable> read_column_table(TableReader& named, TableReader& keys,
                                             std::span<const MappedColumn> mapped,
                                             const TableForm& form, study::Provenance& provenance);
/// Of one table, strictly.
std::optional<ColumnTable> read_column_table(TableReader& table,
                                             std::span<const MappedColumn> mapped,
                                             study::Provenance& provenance);

}  // namespace ohmdrag::input

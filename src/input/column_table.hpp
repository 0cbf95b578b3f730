#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "input/reader.hpp"
#include "ohmdrag/study/case.hpp"

namespace ohmdrag::input {

/// A key that maps a column, `time = { name = "t", unit = "us" }`.
struct MappedColumn {
  std::string_view key;
  Dimension dimension;
  std::span<const UnitSpelling> own_units = {};  ///< in place of the dimension's, of an angle
};

/// The mapped columns of a CSV file, SI, one list a column in the order asked for.
struct ColumnTable {
  std::string file;
  std::string sha256;
  std::vector<std::vector<double>> columns;
};

/// Reads what `{ file = "scope.csv", time = { name, unit }, voltage = { name, unit } }` says of a
/// file, and the file; adds it to the provenance. Keys of the table that are none of these are left
/// to the caller, who calls done().
///
/// The header is the first line that names all mapped columns; what stands before it (an
/// instrument's own lines) is passed over, and so are columns that nobody maps, empty lines and
/// lines that begin with #. Cells are separated by commas, semicolons or tabs, whichever the header
/// shows; a decimal comma is understood where commas do not separate.
///
/// Complains, with the line of the file, of a file that cannot be read, a unit of another
/// dimension, a column that is missing or stands there twice, a short row and a cell that is no
/// finite number. Nothing after a complaint.
std::optional<ColumnTable> read_column_table(TableReader& table,
                                             std::span<const MappedColumn> mapped,
                                             study::Provenance& provenance);

}  // namespace ohmdrag::input

#pragma once

#include <string>
#include <variant>
#include <vector>

#include "ohmdrag/study/findings.hpp"
#include "report/json_rows.hpp"

/// The result document as tables: what CSV files and workbooks hold.
namespace ohmdrag::report {

/// What stands in a cell: nothing, a flag, a number, a text or an interval. An end of an interval
/// that does not exist is NaN.
using Value = std::variant<std::monostate, bool, double, std::string, Interval>;

/// One row an observation. The first columns say of what: variant, operating point, component.
struct DataTable {
  std::string id;                    ///< "budget"; a table within a row: "voltage_bands"
  std::vector<std::string> columns;  ///< keys of the result document, so with their units
  std::vector<std::vector<Value>> rows;

  /// The column of that name, or columns.size().
  std::size_t column(const std::string& name) const;
};

/// Every figure and text of the document once, in its order. Lists of rows become tables, objects
/// within a row columns ("moves_share"), lists within a row tables of their own that repeat the
/// words their row begins with, grids over speed and oil one row a cell. Texts in a list, such as
/// flags, stand in one cell, with semicolons between. A column without any content is left out.
std::vector<DataTable> data_tables(const Json& document);

/// The table of that id, or nullptr.
const DataTable* find_table(const std::vector<DataTable>& tables, const std::string& id);

}  // namespace ohmdrag::report

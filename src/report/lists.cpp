#include <algorithm>

#include "ohmdrag/report/terminal.hpp"
#include "report/table.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {

std::string plain_table(const std::vector<std::string>& heads,
                        const std::vector<std::vector<std::string>>& rows,
                        const TerminalOptions& options) {
  Table table;
  for (std::size_t i = 0; i < heads.size(); ++i) {
    const bool figures =
        !rows.empty() && std::all_of(rows.begin(), rows.end(), [&](const auto& row) {
          return i < row.size() && is_number(row[i]);
        });
    table.columns.push_back(
        {heads[i], "", figures ? Align::right : Align::left, /*flexible=*/!figures});
  }
  for (const auto& row : rows) {
    std::vector<Cell> cells;
    for (const std::string& text : row) cells.push_back({text, {}});
    table.rows.push_back(std::move(cells));
  }
  return printed(table, options);
}

std::string checked_values(const std::vector<ValueRow>& values, const TerminalOptions& options) {
  std::vector<std::vector<std::string>> rows;
  // Only what is kept from somebody is worth a column.
  const auto kept = [](const ValueRow& v) { return v.share == to_word(Share::internal); };
  for (const ValueRow& v : values)
    rows.push_back({v.name, v.value, v.unit, v.basis, v.source, kept(v) ? v.share : ""});
  return plain_table({"name", "value", "unit", "basis", "source", "share"}, rows, options);
}

}  // namespace ohmdrag::report

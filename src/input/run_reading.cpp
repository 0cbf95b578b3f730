#include "input/run_reading.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <filesystem>

#include "input/files.hpp"

namespace ohmdrag::input {

namespace {

/// So many of the rows that were left out are named.
constexpr std::size_t most_named = 3;

std::string left_out_in_words(const std::string& file, const std::vector<std::string>& rows) {
  const std::span named(rows.data(), std::min(rows.size(), most_named));
  return fmt::format("{}: {} {} that cannot be read: {}{}.", file, rows.size(),
                     rows.size() == 1 ? "row" : "rows", fmt::join(named, "; "),
                     rows.size() > most_named ? "; …" : "");
}

}  // namespace

std::optional<ColumnTable> read_run_log(RunReading& reading, TableReader& named, TableReader& keys,
                                        std::span<const MappedColumn> mapped,
                                        std::string_view key) {
  auto table =
      read_column_table(named, keys, mapped, {key, BadRows::leave_out}, reading.provenance);
  if (!table) return table;
  const std::string name = std::filesystem::path(table->file).filename().string();
  reading.head.files.push_back({name, table->sha256, table->rows()});
  if (!table->left_out.empty())
    reading.head.conditions.emplace_back("Left out", left_out_in_words(name, table->left_out));
  return table;
}

study::Case case_of_run(RunReading& reading, TableReader& table) {
  const Node* name = table.find("case");
  if (!name || !name->is_text()) table.text("case");
  reading.problems.throw_if_any();
  return load_case(file_named_by(*name), {{}, reading.options.data_folder});
}

}  // namespace ohmdrag::input

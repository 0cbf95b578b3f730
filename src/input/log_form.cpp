#include "input/log_form.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <string>
#include <vector>

namespace ohmdrag::input {
namespace {

struct Mark {
  std::string_view word;
  char character;
};
constexpr std::array separators{Mark{"comma", ','}, Mark{"semicolon", ';'}, Mark{"tab", '\t'}};
constexpr std::array decimals{Mark{"point", '.'}, Mark{"comma", ','}};

std::optional<char> mark_of(TableReader& table, std::string_view key, std::span<const Mark> marks) {
  if (!table.has(key)) return std::nullopt;
  std::vector<std::string> words;
  for (const Mark& mark : marks) words.emplace_back(mark.word);
  const std::string read = table.word(key, words);
  return std::ranges::find(marks, read, &Mark::word)->character;
}

}  // namespace

duty::TripColumn log_column(TableReader& columns, std::string_view key) {
  TableReader table = columns.required_table(key);
  if (!table.present()) return {};
  duty::TripColumn column{table.text("name"), table.text("unit")};
  table.done();
  return column;
}

std::optional<duty::TripColumn> maybe_log_column(TableReader& columns, std::string_view key) {
  if (!columns.has(key)) return std::nullopt;
  return log_column(columns, key);
}

std::optional<char> log_separator(TableReader& table) {
  return mark_of(table, "separator", separators);
}

std::optional<char> log_decimal(TableReader& table) { return mark_of(table, "decimal", decimals); }

}  // namespace ohmdrag::input

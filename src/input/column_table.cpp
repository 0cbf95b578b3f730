#include "input/column_table.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <memory>
#include <utility>

#include "input/document.hpp"
#include "input/files.hpp"
#include "ohmdrag/quantity/read.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\"";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::vector<std::string_view> cells_of(std::string_view line, char separator) {
  std::vector<std::string_view> cells;
  while (true) {
    const std::size_t end = line.find(separator);
    cells.push_back(trimmed(line.substr(0, end)));
    if (end == std::string_view::npos) return cells;
    line.remove_prefix(end + 1);
  }
}

/// A finite number that fills the cell.
std::optional<double> number_in(std::string_view cell, bool decimal_comma) {
  std::string text(cell);
  if (decimal_comma) std::ranges::replace(text, ',', '.');
  if (text.starts_with('+')) text.erase(0, 1);  // instruments write it, from_chars refuses it
  double value = 0.0;
  const char* const end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{} || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

struct Column {
  std::string name;
  const UnitSpelling* unit = nullptr;
};

std::string words_of(std::span<const UnitSpelling> units) {
  std::string words;
  for (const UnitSpelling& unit : units)
    words += fmt::format("{}\"{}\"", words.empty() ? "" : " or ", unit.text);
  return words;
}

Column column_of(TableReader& table, const MappedColumn& mapped) {
  TableReader entry = table.required_table(mapped.key);
  Column column;
  if (!entry.present()) return column;
  column.name = entry.text("name");
  const std::string unit = entry.text("unit");
  if (entry.has("unit")) {
    if (!mapped.own_units.empty()) {
      const auto own =
          std::ranges::find(mapped.own_units, canonical_unit(unit), &UnitSpelling::text);
      if (own != mapped.own_units.end())
        column.unit = &*own;
      else
        entry.complain("unit",
                       fmt::format("read \"{}\"; expected {}", unit, words_of(mapped.own_units)));
      entry.done();
      return column;
    }
    column.unit = find_unit(mapped.dimension, unit);
    if (!column.unit)
      entry.complain("unit",
                     fmt::format("read \"{}\", which is no unit of {}", unit,
                                 row_of(mapped.dimension).with_article),
                     accepted_units(mapped.dimension));
  }
  entry.done();
  return column;
}

/// What the file says under its header.
class Rows {
 public:
  Rows(const std::vector<std::string>& lines, const std::vector<Column>& columns)
      : lines_(lines), columns_(columns) {
    for (; header_ < lines.size(); ++header_)
      for (const char separator : {',', ';', '\t'})
        if (finds_all(cells_of(lines[header_], separator))) {
          separator_ = separator;
          return;
        }
  }

  bool has_header() const { return header_ < lines_.size(); }

  /// A complaint in words, or nothing.
  std::string read(std::vector<std::vector<double>>& out) const {
    const auto heads = cells_of(lines_[header_], separator_);
    std::vector<std::size_t> places;
    for (const Column& column : columns_) {
      if (std::ranges::count(heads, column.name) > 1)
        return fmt::format("line {}: the column \"{}\" stands there twice", header_ + 1,
                           column.name);
      places.push_back(std::size_t(std::ranges::find(heads, column.name) - heads.begin()));
    }
    out.assign(columns_.size(), {});
    for (std::size_t line = header_ + 1; line < lines_.size(); ++line) {
      const std::string_view text = trimmed(lines_[line]);
      if (text.empty() || text.starts_with('#')) continue;
      const auto cells = cells_of(lines_[line], separator_);
      for (std::size_t c = 0; c < columns_.size(); ++c) {
        if (places[c] >= cells.size())
          return fmt::format("line {}: has no cell for \"{}\"", line + 1, columns_[c].name);
        const auto number = number_in(cells[places[c]], separator_ != ',');
        if (!number)
          return fmt::format("line {}: read \"{}\" for \"{}\", which is no number", line + 1,
                             cells[places[c]], columns_[c].name);
        out[c].push_back(*number * columns_[c].unit->factor + columns_[c].unit->offset);
      }
    }
    return {};
  }

 private:
  bool finds_all(const std::vector<std::string_view>& cells) const {
    return std::ranges::all_of(columns_, [&](const Column& column) {
      return std::ranges::find(cells, column.name) != cells.end();
    });
  }

  const std::vector<std::string>& lines_;
  const std::vector<Column>& columns_;
  std::size_t header_ = 0;
  char separator_ = ',';
};

}  // namespace

std::optional<ColumnTable> read_column_table(TableReader& table,
                                             std::span<const MappedColumn> mapped,
                                             study::Provenance& provenance) {
  std::vector<Column> columns;
  for (const MappedColumn& key : mapped) columns.push_back(column_of(table, key));
  const std::string name = table.text("file");
  const bool sound = std::ranges::all_of(
      columns, [](const Column& column) { return column.unit && !column.name.empty(); });
  if (!sound || name.empty()) return std::nullopt;

  const fs::path file = file_named_by(*table.find("file"));
  const auto refuse = [&](std::string_view why, std::string hint = {}) {
    table.complain("file", fmt::format("{}: {}", file.string(), why), std::move(hint));
    return std::nullopt;
  };
  std::error_code failed;
  if (fs::exists(file, failed) && !fs::is_regular_file(file, failed))
    return refuse("is no regular file; expected a CSV file");
  Problems of_file;
  const std::optional<FileText> text = read_file(file, of_file);
  if (!text) return refuse(of_file.first());
  if (std::ranges::find(provenance.includes, file.string(), &study::Provenance::Include::file) ==
      provenance.includes.end())
    provenance.includes.push_back({file.string(), text->sha256});

  const auto source = split_lines(text->content, file.string());
  const Rows rows(source->lines, columns);
  std::vector<std::string_view> names;
  for (const Column& column : columns) names.push_back(column.name);
  if (!rows.has_header())
    return refuse(fmt::format("no line names all of {}", fmt::join(names, ", ")),
                  "name the columns as the file does; commas, semicolons or tabs between them");
  ColumnTable out{file.string(), text->sha256, {}};
  if (const std::string why = rows.read(out.columns); !why.empty())
    return refuse(why, "decimal commas go with semicolons or tabs between the columns");
  if (out.columns.front().empty()) return refuse("there are no rows under its header");
  return out;
}

}  // namespace ohmdrag::input

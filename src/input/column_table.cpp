#include "input/column_table.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <utility>

#include "input/document.hpp"
#include "input/files.hpp"
#include "input/text_blocks.hpp"
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
  std::string name = {};
  const UnitSpelling* unit = nullptr;
  bool mapped = true;
  bool words = false;

  bool sound() const { return !mapped || (!name.empty() && (words || unit)); }
};

std::string words_of(std::span<const UnitSpelling> units) {
  std::string words;
  for (const UnitSpelling& unit : units)
    words += fmt::format("{}\"{}\"", words.empty() ? "" : " or ", unit.text);
  return words;
}

Column column_of(TableReader& table, const MappedColumn& mapped) {
  if (!mapped.required && !table.has(mapped.key)) return {.mapped = false};
  TableReader entry = table.required_table(mapped.key);
  Column column{.words = mapped.words};
  if (!entry.present()) return column;
  column.name = entry.text("name");
  if (mapped.words) {
    entry.done();
    return column;
  }
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

/// More than this share of rows that cannot be read refuses a table that may leave some out; common
/// practice, no source.
constexpr double most_left_out = 0.1;

/// What the file says under its header.
class Rows {
 public:
  Rows(const std::vector<std::string>& lines, const std::vector<Column>& columns, BadRows bad_rows)
      : lines_(lines), columns_(columns), bad_rows_(bad_rows) {
    for (; header_ < lines.size(); ++header_)
      for (const char separator : {',', ';', '\t'})
        if (finds_all(cells_of(lines[header_], separator))) {
          separator_ = separator;
          return;
        }
  }

  bool has_header() const { return header_ < lines_.size(); }

  /// A complaint in words, or nothing.
  std::string read(ColumnTable& out) {
    if (std::string twice = find_places(); !twice.empty()) return twice;
    out.columns.assign(columns_.size(), {});
    out.words.assign(columns_.size(), {});
    bool first = true;
    for (std::size_t line = header_ + 1; line < lines_.size(); ++line) {
      const std::string_view text = trimmed(lines_[line]);
      if (text.empty() || text.starts_with('#')) continue;
      const auto cells = cells_of(lines_[line], separator_);
      std::string why = row_of(cells);
      const bool units = first && !why.empty() && numbers_in(cells) == 0;
      first = false;
      if (units) continue;
      if (why.empty()) {
        keep(cells, out);
        continue;
      }
      why = fmt::format("line {}: {}", line + 1, why);
      if (bad_rows_ == BadRows::refuse) return why;
      out.left_out.push_back(std::move(why));
    }
    const double all = static_cast<double>(out.rows() + out.left_out.size());
    if (static_cast<double>(out.left_out.size()) > most_left_out * all)
      return fmt::format("{} of {:.0f} rows cannot be read; {}", out.left_out.size(), all,
                         out.left_out.front());
    return {};
  }

 private:
  bool finds_all(const std::vector<std::string_view>& cells) const {
    return std::ranges::all_of(columns_, [&](const Column& column) {
      return !column.mapped || std::ranges::find(cells, column.name) != cells.end();
    });
  }

  /// A complaint in words, or nothing.
  std::string find_places() {
    const auto heads = cells_of(lines_[header_], separator_);
    places_.clear();
    for (const Column& column : columns_) {
      if (column.mapped && std::ranges::count(heads, column.name) > 1)
        return fmt::format("line {}: the column \"{}\" stands there twice", header_ + 1,
                           column.name);
      places_.push_back(std::size_t(std::ranges::find(heads, column.name) - heads.begin()));
    }
    return {};
  }

  /// Reads a row into `numbers_`; a complaint in words, or nothing.
  std::string row_of(const std::vector<std::string_view>& cells) {
    numbers_.assign(columns_.size(), 0.0);
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      const Column& column = columns_[c];
      if (!column.mapped) continue;
      if (places_[c] >= cells.size()) return fmt::format("has no cell for \"{}\"", column.name);
      const std::string_view cell = cells[places_[c]];
      if (column.words) {
        if (cell.empty()) return fmt::format("has an empty cell for \"{}\"", column.name);
        continue;
      }
      const auto number = number_in(cell, separator_ != ',');
      if (!number)
        return fmt::format("read \"{}\" for \"{}\", which is no number", cell, column.name);
      numbers_[c] = *number * column.unit->factor + column.unit->offset;
    }
    return {};
  }

  /// Of the mapped cells that should be numbers, how many are.
  std::ptrdiff_t numbers_in(const std::vector<std::string_view>& cells) const {
    std::ptrdiff_t count = 0;
    for (std::size_t c = 0; c < columns_.size(); ++c)
      if (columns_[c].mapped && !columns_[c].words && places_[c] < cells.size() &&
          number_in(cells[places_[c]], separator_ != ','))
        ++count;
    return count;
  }

  void keep(const std::vector<std::string_view>& cells, ColumnTable& out) const {
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      if (!columns_[c].mapped) continue;
      if (columns_[c].words)
        out.words[c].emplace_back(cells[places_[c]]);
      else
        out.columns[c].push_back(numbers_[c]);
    }
  }

  const std::vector<std::string>& lines_;
  const std::vector<Column>& columns_;
  BadRows bad_rows_;
  std::size_t header_ = 0;
  char separator_ = ',';
  std::vector<std::size_t> places_ = {};
  std::vector<double> numbers_ = {};
};

}  // namespace

std::size_t ColumnTable::rows() const {
  std::size_t most = 0;
  for (const auto& column : columns) most = std::max(most, column.size());
  for (const auto& column : words) most = std::max(most, column.size());
  return most;
}

std::optional<ColumnTable> read_column_table(TableReader& named, TableReader& keys,
                                             std::span<const MappedColumn> mapped,
                                             const TableForm& form, study::Provenance& provenance) {
  std::vector<Column> columns;
  for (const MappedColumn& key : mapped) columns.push_back(column_of(keys, key));
  const std::string name = named.text(form.file_key);
  if (!std::ranges::all_of(columns, &Column::sound) || name.empty()) return std::nullopt;

  const fs::path file = file_named_by(*named.find(form.file_key));
  const auto refuse = [&](std::string_view why, std::string hint = {}) {
    named.complain(form.file_key, fmt::format("{}: {}", file.string(), why), std::move(hint));
    return std::nullopt;
  };
  Problems of_file;
  const std::optional<FileText> text = read_log_text(file, of_file);
  if (!text) return refuse(of_file.first());
  if (std::ranges::find(provenance.includes, file.string(), &study::Provenance::Include::file) ==
      provenance.includes.end())
    provenance.includes.push_back({file.string(), text->sha256});

  const auto source = split_lines(text->content, file.string());
  Rows rows(source->lines, columns, form.bad_rows);
  std::vector<std::string_view> names;
  for (const Column& column : columns)
    if (column.mapped) names.push_back(column.name);
  if (!rows.has_header())
    return refuse(fmt::format("no line names all of {}", fmt::join(names, ", ")),
                  "name the columns as the file does; commas, semicolons or tabs between them");
  ColumnTable out{file.string(), text->sha256, {}, {}, {}};
  if (const std::string why = rows.read(out); !why.empty())
    return refuse(why, "decimal commas go with semicolons or tabs between the columns");
  if (out.rows() == 0) return refuse("there are no rows under its header");
  return out;
}

std::optional<ColumnTable> read_column_table(TableReader& table,
                                             std::span<const MappedColumn> mapped,
                                             study::Provenance& provenance) {
  return read_column_table(table, table, mapped, {}, provenance);
}

}  // namespace ohmdrag::input

#include "input/measured_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <memory>
#include <optional>
#include <utility>
#include <variant>

#include "input/document.hpp"
#include "ohmdrag/quantity/read.hpp"

namespace ohmdrag::input {

namespace {

struct Kind {
  std::string_view name;
  Dimension dimension;
  bool required;
  std::string_view example;
};
constexpr std::array kinds{
    Kind{"speed", Dimension::rotational_speed, true, "speed [rpm]"},
    Kind{"torque", Dimension::torque, true, "torque [N*m]"},
    Kind{"temperature", Dimension::temperature, false, "temperature [degC]"},
};
constexpr std::size_t speed = 0, torque = 1, temperature = 2;

/// What a drag map holds beside the three; a stranger may be a misspelt one of them.
constexpr std::array of_drag_map{"torque low", "torque high", "power",
                                 "power low",  "power high",  "transmitted torque"};
constexpr std::string_view of_component = "torque of ";

constexpr std::string_view commas = "numbers have a decimal point, columns a comma between them";

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::size_t code_points(std::string_view utf8) {
  return static_cast<std::size_t>(
      std::ranges::count_if(utf8, [](char c) { return (c & 0xC0) != 0x80; }));
}

struct Cell {
  std::string_view text;
  Place place;
};

/// Reads line by line; complains where something is wrong and goes on.
class Table {
 public:
  Table(std::shared_ptr<const SourceText> source, Problems& problems)
      : source_(std::move(source)), problems_(problems) {}

  MeasuredTable read() {
    MeasuredTable table;
    std::vector<component::MeasuredTorqueRow>& rows = table.rows;
    bool header_read = false;
    for (std::size_t line = 1; line <= source_->lines.size(); ++line) {
      const std::string_view text = trimmed(source_->lines[line - 1]);
      if (text.empty() || text.starts_with('#')) continue;
      if (!header_read) {
        read_header(line);
        header_read = true;
        if (!sound_) return {};  // no row means anything without it
        table.not_read = not_read_;
      } else if (const auto row = read_row(line)) {
        rows.push_back(*row);
      }
    }
    const bool rows_sound = sound_;
    Place start;
    start.text = source_;
    start.line = start.column = 1;
    if (!header_read || (rows.empty() && sound_))
      complain(start, "the table has no rows", "write a header and at least two speeds");
    // A row that was refused may be the one that a curve lacks.
    for (const auto& [temperature_K, lines] : lines_at_)
      if (lines.size() == 1 && rows_sound)
        complain(cells(lines.begin()->second).front().place,
                 lines_at_.size() == 1 ? "one speed alone makes no curve"
                                       : "no second speed was measured at this temperature",
                 "a curve needs two speeds or more, all with the same temperature in their rows");
    if (!sound_) rows.clear();
    return table;
  }

 private:
  void complain(const Place& place, std::string what, std::string hint = {}) {
    sound_ = false;
    problems_.add(place, {}, std::move(what), std::move(hint));
  }

  std::vector<Cell> cells(std::size_t line) const {
    const std::string_view whole = source_->lines[line - 1];
    std::vector<Cell> result;
    std::size_t begin = 0;
    while (true) {
      const std::size_t end = std::min(whole.find(',', begin), whole.size());
      const std::string_view text = trimmed(whole.substr(begin, end - begin));
      Cell cell{text, {}};
      const std::size_t at =
          text.empty() ? begin : static_cast<std::size_t>(text.data() - whole.data());
      cell.place.text = source_;
      cell.place.line = line;
      cell.place.column = code_points(whole.substr(0, at)) + 1;
      cell.place.width = std::max<std::size_t>(1, code_points(text));
      result.push_back(std::move(cell));
      if (end == whole.size()) return result;
      begin = end + 1;
    }
  }

  void read_header(std::size_t line) {
    const std::vector<Cell> heads = cells(line);
    if (heads.size() == 1 && heads[0].text.find(';') != std::string_view::npos)
      return complain(heads[0].place, "the columns are separated by semicolons; expected commas",
                      std::string{commas});
    columns_ = heads.size();
    for (std::size_t i = 0; i < heads.size(); ++i) read_head(heads[i], i);
    for (std::size_t k = 0; k < kinds.size(); ++k)
      if (kinds[k].required && !column_[k] && sound_)
        complain(heads.front().place,
                 fmt::format("there is no column {}; expected {}", kinds[k].name, kinds[k].example),
                 accepted_units(kinds[k].dimension));
  }

  void read_head(const Cell& head, std::size_t index) {
    const std::size_t open = head.text.find('[');
    const std::string_view name = trimmed(head.text.substr(0, open));
    const auto kind = std::ranges::find(kinds, name, &Kind::name);
    if (std::ranges::find(of_drag_map, name) != of_drag_map.end() ||
        name.starts_with(of_component)) {
      not_read_.emplace_back(name);
      return;
    }
    if (kind == kinds.end()) {
      const std::vector<std::string> known{"speed", "torque", "temperature"};
      return complain(head.place, fmt::format("read \"{}\", which is no column here", head.text),
                      suggestion(name, known));
    }
    const auto k = static_cast<std::size_t>(kind - kinds.begin());
    if (column_[k])
      return complain(head.place, fmt::format("the column {} stands here twice", kind->name));
    column_[k] = index;
    if (open == std::string_view::npos || !head.text.ends_with(']'))
      return complain(head.place,
                      fmt::format("read \"{}\"; expected its unit in square brackets, {}",
                                  head.text, kind->example),
                      accepted_units(kind->dimension));
    const std::string_view unit = head.text.substr(open + 1, head.text.size() - open - 2);
    if (!find_unit(kind->dimension, unit))
      return complain(head.place,
                      fmt::format("read \"{}\", which is no unit of {}", unit,
                                  row_of(kind->dimension).with_article),
                      accepted_units(kind->dimension));
    unit_[k] = unit;
  }

  std::optional<component::MeasuredTorqueRow> read_row(std::size_t line) {
    const std::vector<Cell> row = cells(line);
    if (row.size() != columns_) {
      complain(row.front().place,
               fmt::format("the row has {} cells; expected {}", row.size(), columns_),
               std::string{commas});
      return std::nullopt;
    }
    std::array<std::optional<double>, kinds.size()> si;
    for (std::size_t k = 0; k < kinds.size(); ++k)
      if (column_[k]) {
        si[k] = value(row[*column_[k]], k);
        if (!si[k]) return std::nullopt;
      }
    const auto [first, is_new] = lines_at_[si[temperature].value_or(0.0)].emplace(*si[speed], line);
    if (!is_new) {
      complain(row[*column_[speed]].place,
               fmt::format("the speed {} stands in line {} already{}", row[*column_[speed]].text,
                           first->second, si[temperature] ? " at this temperature" : ""),
               "make one row of repeated runs");
      return std::nullopt;
    }
    component::MeasuredTorqueRow result{AngularVelocity::from_value(*si[speed]),
                                        Torque::from_value(*si[torque]), std::nullopt};
    if (si[temperature]) result.temperature = Temperature::from_value(*si[temperature]);
    return result;
  }

  /// The number of a cell in SI.
  std::optional<double> value(const Cell& cell, std::size_t k) {
    const auto refuse = [&](std::string what, std::string_view hint = {}) {
      complain(cell.place, std::move(what), std::string{hint});
      return std::nullopt;
    };
    if (cell.text.empty()) return refuse(fmt::format("the {} is missing", kinds[k].name));
    double number = 0.0;
    const char* const end = cell.text.data() + cell.text.size();
    const auto [stop, error] = std::from_chars(cell.text.data(), end, number);
    if (error != std::errc{} || stop != end || !std::isfinite(number))
      return refuse(fmt::format("read \"{}\", which is no number", cell.text), commas);
    const auto read = read_quantity(fmt::format("{} {}", cell.text, unit_[k]), kinds[k].dimension);
    if (const auto* problem = std::get_if<ReadProblem>(&read))
      return refuse(problem->what, problem->hint);
    if (k != temperature && number < 0.0)
      return refuse(fmt::format("read {}; expected 0 or more: {}", cell.text,
                                k == speed ? "both directions drag alike" : "a drag has no sign"));
    return std::get<Distribution>(read).mid;
  }

  std::shared_ptr<const SourceText> source_;
  Problems& problems_;
  bool sound_ = true;
  std::size_t columns_ = 0;
  std::array<std::optional<std::size_t>, kinds.size()> column_;
  std::array<std::string, kinds.size()> unit_;
  std::vector<std::string> not_read_;
  /// Line by speed by temperature, SI; one temperature of 0 without that column.
  std::map<double, std::map<double, std::size_t>> lines_at_;
};

}  // namespace

MeasuredTable read_measured_table(std::string_view text, const std::string& name,
                                  Problems& problems) {
  return Table{split_lines(text, name), problems}.read();
}

}  // namespace ohmdrag::input

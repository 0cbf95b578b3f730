#include "duty/trip_header.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>
#include <numeric>
#include <span>
#include <utility>

#include "duty/csv_scan.hpp"
#include "ohmdrag/quantity/dimension.hpp"
#include "ohmdrag/quantity/read.hpp"

namespace ohmdrag::duty {

namespace {

TripUnit unit_of(const TripColumn& column, Dimension dimension) {
  if (dimension == Dimension::time && column.unit == date_time_unit)
    return {.name = column.name, .date_time = true};
  const UnitSpelling* unit = find_unit(dimension, column.unit);
  if (!unit)
    throw std::invalid_argument(
        fmt::format("column \"{}\": read \"{}\", which is no unit of {}; {}{}", column.name,
                    column.unit, row_of(dimension).with_article, accepted_units(dimension),
                    dimension == Dimension::time ? fmt::format(", {}", date_time_unit) : ""));
  return {.name = column.name, .factor = unit->factor, .offset = unit->offset};
}

/// Insertions, deletions and exchanges of characters between two names, case aside.
std::size_t edits(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return std::tolower(static_cast<unsigned char>(c)); };
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = std::exchange(row[0], i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t exchanged = diagonal + (lower(a[i - 1]) == lower(b[j - 1]) ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, exchanged});
    }
  }
  return row.back();
}

std::string missing(const std::string& name, std::span<const std::string> there) {
  constexpr std::size_t shown = 20;
  std::string text = fmt::format("there is no column \"{}\"", name);
  std::size_t least = name.size() / 2 + 1;  // a stranger is no suggestion
  std::string nearest;
  for (const std::string& other : there)
    if (const std::size_t distance = edits(name, other); distance < least) {
      least = distance;
      nearest = other;
    }
  if (!nearest.empty()) text += fmt::format("; did you mean \"{}\"?", nearest);
  return fmt::format("{}; the columns are: {}{}", text,
                     fmt::join(there.first(std::min(shown, there.size())), ", "),
                     there.size() > shown ? ", …" : "");
}

std::size_t mapped(const TripUnits& units, std::span<const std::string> names) {
  return static_cast<std::size_t>(std::ranges::count_if(units, [&](const auto& unit) {
    return unit && std::ranges::find(names, unit->name) != names.end();
  }));
}

}  // namespace

TripUnits units_of(const TripForm& form) {
  const TripColumns& columns = form.columns;
  TripUnits units;
  units[trip_time] = unit_of(columns.time, Dimension::time);
  if (!form.standing) units[trip_speed] = unit_of(columns.speed, Dimension::speed);
  const auto set = [&](TripQuantity quantity, const std::optional<TripColumn>& column,
                       Dimension dimension) {
    if (column) units[quantity] = unit_of(*column, dimension);
  };
  set(trip_shaft_speed, columns.shaft_speed, Dimension::rotational_speed);
  set(trip_torque, columns.torque, Dimension::torque);
  set(trip_sump_temperature, columns.sump_temperature, Dimension::temperature);
  set(trip_ambient_temperature, columns.ambient_temperature, Dimension::temperature);
  set(trip_heat, columns.heat, Dimension::power);
  for (std::size_t a = 0; a < units.size(); ++a)
    for (std::size_t b = a + 1; b < units.size(); ++b)
      if (units[a] && units[b] && units[a]->name == units[b]->name)
        throw std::invalid_argument(
            fmt::format("column \"{}\" stands for two quantities", units[a]->name));
  return units;
}

TripHeader header_of(std::string_view row, std::size_t line, const TripUnits& units,
                     const std::optional<char>& separator) {
  TripHeader header;
  std::vector<std::string> names;
  if (separator) {
    header.separator = *separator;
    names = header_cells(row, *separator);
  } else {
    for (const char candidate : {'\t', ';', ','}) {
      std::vector<std::string> cells = header_cells(row, candidate);
      const std::pair now{mapped(units, names), names.size()};
      if (std::pair{mapped(units, cells), cells.size()} <= now) continue;
      names = std::move(cells);
      header.separator = candidate;
    }
  }
  if (names.empty()) throw TripError(line, {}, "a quote is not closed in the header");
  header.quantity.assign(names.size(), trip_quantities);
  for (std::size_t q = 0; q < units.size(); ++q) {
    if (!units[q]) continue;
    const auto found = std::ranges::find(names, units[q]->name);
    if (found == names.end()) throw TripError(line, units[q]->name, missing(units[q]->name, names));
    if (std::find(found + 1, names.end(), units[q]->name) != names.end())
      throw TripError(line, units[q]->name,
                      fmt::format("the column \"{}\" stands there twice", units[q]->name));
    header.quantity[static_cast<std::size_t>(found - names.begin())] = q;
  }
  return header;
}

}  // namespace ohmdrag::duty

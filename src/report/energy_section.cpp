#include <algorithm>

#include "ohmdrag/duty/cycle.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

std::vector<std::string> duties_of(const std::vector<study::EnergyRow>& rows) {
  std::vector<std::string> out;
  for (const study::EnergyRow& row : rows)
    if (std::find(out.begin(), out.end(), row.duty) == out.end()) out.push_back(row.duty);
  return out;
}

using ohmdrag::duty::whole;

/// The sum below the components of a phase; the whole duty has a row of its own.
std::vector<Cell> total_cells(const study::EnergyTotal& total, std::size_t columns) {
  std::vector<Cell> cells(columns);
  cells[0] = words(total.phase);
  cells[1] = words("total");
  if (total.shaft_Wh_per_km) cells[3] = figure(*total.shaft_Wh_per_km);
  if (total.battery_Wh_per_km) cells[4] = figure(*total.battery_Wh_per_km);
  cells[6] = figure(total.mean_W);
  return cells;
}

Table energy_table(const study::VariantFindings& variant, const std::string& duty,
                   Footnotes& notes) {
  const std::vector<study::EnergyRow>& rows = variant.energy;
  Table table{.columns = {{"phase", "", Align::left},
                          {"component", "", Align::left},
                          {"distance", "km"},
                          {"at the shaft", "Wh/km"},
                          {"at the battery", "Wh/km"},
                          {"change of range", "km"},
                          {"mean power", "W"},
                          {"a year", "kWh"},
                          {"oil at the end", "°C"},
                          {"notes", "", Align::left}},
              .rows = {},
              .keys = 2};
  // Driven duties and cases without a price of energy have no cost: no empty column.
  const auto priced = std::find_if(rows.begin(), rows.end(), [&](const study::EnergyRow& row) {
    return row.duty == duty && row.plug_cost_per_year;
  });
  const auto after_energy = table.columns.begin() + 8;
  if (priced != rows.end()) table.columns.insert(after_energy, {"a year", priced->currency});
  const auto or_blank = [](const auto& value) { return value ? figure(*value) : Cell{}; };
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const study::EnergyRow& row = rows[i];
    if (row.duty != duty) continue;
    std::vector<Cell> cells{words(row.phase),
                            words(row.component),
                            or_blank(row.distance_km),
                            or_blank(row.shaft_Wh_per_km),
                            or_blank(row.battery_Wh_per_km),
                            or_blank(row.range_change_km),
                            figure(row.mean_W),
                            or_blank(row.kWh_per_year)};
    if (priced != rows.end()) cells.push_back(or_blank(row.plug_cost_per_year));
    cells.push_back(or_blank(row.end_oil_temperature_degC));
    cells.push_back(marks(row.flags, notes));
    table.rows.push_back(std::move(cells));
    const bool last =
        i + 1 == rows.size() || rows[i + 1].phase != row.phase || rows[i + 1].duty != row.duty;
    if (!last || row.phase == whole) continue;
    const auto total =
        std::ranges::find_if(variant.energy_totals, [&](const study::EnergyTotal& candidate) {
          return candidate.duty == duty && candidate.phase == row.phase;
        });
    if (total != variant.energy_totals.end())
      table.rows.push_back(total_cells(*total, table.columns.size()));
  }
  return table;
}

/// A folder may hold thousands; the others stand in the JSON document.
constexpr std::size_t most_trips = 20;

void print_trips(const std::vector<study::TripRow>& rows, const std::string& duty, Page& page) {
  Footnotes notes;
  Table table{.columns = {{"trip", "", Align::left, true},
                          {"distance", "km"},
                          {"at the shaft", "Wh/km"},
                          {"at the battery", "Wh/km"},
                          {"mean power", "W"},
                          {"oil at the end", "°C"},
                          {"notes", "", Align::left}},
              .rows = {}};
  std::size_t count = 0;
  for (const study::TripRow& row : rows) {
    if (row.duty != duty || ++count > most_trips) continue;
    const bool used = row.error.empty();
    table.rows.push_back({words(row.trip), used ? figure(row.distance_km) : words("left out"),
                          figure(row.shaft_Wh_per_km), figure(row.battery_Wh_per_km),
                          figure(row.mean_W), figure(row.end_oil_temperature_degC),
                          words(notes.mark(used ? row.report : "Left out: " + row.error + "."))});
  }
  if (count == 0) return;
  page.space();
  page.table(table);
  if (count > most_trips)
    page.say(std::to_string(count - most_trips) + " more trips stand in the JSON document.");
  page.notes(notes);
}

}  // namespace

void print_energy(const study::Findings& findings, Page& page) {
  for (const study::VariantFindings& variant : findings.variants) {
    for (const std::string& duty : duties_of(variant.energy)) {
      Footnotes notes;
      page.heading("Energy over " + duty + ", " + variant.id);
      page.table(energy_table(variant, duty, notes));
      page.notes(notes);
      print_trips(variant.trips, duty, page);
    }
  }
  print_watt_worth(findings.watt_worth, page);
}

}  // namespace ohmdrag::report

#include <algorithm>

#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

std::vector<std::string> duties_of(const std::vector<study::EnergyRow>& rows) {
  std::vector<std::string> out;
  for (const study::EnergyRow& row : rows)
    if (std::find(out.begin(), out.end(), row.duty) == out.end()) out.push_back(row.duty);
  return out;
}

Table energy_table(const std::vector<study::EnergyRow>& rows, const std::string& duty,
                   Footnotes& notes) {
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
  const auto or_blank = [](const auto& value) { return value ? figure(*value) : Cell{}; };
  for (const study::EnergyRow& row : rows)
    if (row.duty == duty)
      table.rows.push_back({words(row.phase), words(row.component), or_blank(row.distance_km),
                            or_blank(row.shaft_Wh_per_km), or_blank(row.battery_Wh_per_km),
                            or_blank(row.range_change_km), figure(row.mean_W),
                            or_blank(row.kWh_per_year), or_blank(row.end_oil_temperature_degC),
                            marks(row.flags, notes)});
  return table;
}

}  // namespace

void print_energy(const study::Findings& findings, Page& page) {
  for (const study::VariantFindings& variant : findings.variants) {
    for (const std::string& duty : duties_of(variant.energy)) {
      Footnotes notes;
      page.heading("Energy over " + duty + ", " + variant.id);
      page.table(energy_table(variant.energy, duty, notes));
      page.notes(notes);
    }
  }
}

}  // namespace ohmdrag::report

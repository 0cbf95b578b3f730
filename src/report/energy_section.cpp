#include "report/sections.hpp"

namespace ohmdrag::report {

void print_energy(const study::Findings& findings, Page& page) {
  for (const study::VariantFindings& variant : findings.variants) {
    if (variant.energy.empty()) continue;
    Footnotes notes;
    Table table{.columns = {{"duty, phase", "", Align::left},
                            {"component", "", Align::left},
                            {"distance", "km"},
                            {"at the shaft", "Wh/km"},
                            {"at the battery", "Wh/km"},
                            {"change of range", "km"},
                            {"mean power", "W"},
                            {"a year", "kWh"},
                            {"oil at the end", "°C"},
                            {"notes", "", Align::left}},
                .rows = {}};
    const auto or_blank = [](const auto& value) { return value ? figure(*value) : Cell{}; };
    for (const study::EnergyRow& row : variant.energy)
      table.rows.push_back({words(row.duty + ", " + row.phase), words(row.component),
                            or_blank(row.distance_km), or_blank(row.shaft_Wh_per_km),
                            or_blank(row.battery_Wh_per_km), or_blank(row.range_change_km),
                            figure(row.mean_W), or_blank(row.kWh_per_year),
                            or_blank(row.end_oil_temperature_degC), marks(row.flags, notes)});
    page.heading("Energy over the duty, " + heading_of(variant, findings));
    page.table(table);
    page.notes(notes);
  }
}

}  // namespace ohmdrag::report

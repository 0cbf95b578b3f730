#include <algorithm>

#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

Table budget_table(const study::VariantFindings& variant, const std::string& point,
                   Footnotes& notes) {
  Table table{.columns = {{"component", "", Align::left},
                          {"kind", "", Align::left},
                          {"shaft speed", "rpm"},
                          {"surface speed", "m/s"},
                          {"torque", "N·m"},
                          {"own power", "W"},
                          {"net power", "W"},
                          {"own, end of service", "W"},
                          {"contact temperature", "°C"},
                          {"heat into the sump", "W"},
                          {"allocation", "W"},
                          {"margin", "W"},
                          {"maturity", "", Align::left},
                          {"basis", "", Align::left},
                          {"notes", "", Align::left}},
              .rows = {}};
  for (const study::BudgetRow& row : variant.budget) {
    if (row.point != point) continue;
    table.rows.push_back({words(row.component), words(row.kind), figure(row.shaft_speed_rpm),
                          figure(row.surface_speed_mps), figure(row.torque_Nm), figure(row.own_W),
                          figure(row.net_W), figure(row.own_end_of_service_W),
                          figure(row.contact_temperature_degC), figure(row.heat_into_sump_W),
                          figure(row.allocation_W), figure(row.margin_W), words(row.maturity),
                          words(std::string(to_word(row.basis))), marks(row.flags, notes)});
  }
  for (const study::AccountRow& row : variant.account) {
    if (row.point != point) continue;
    table.rows.push_back({words("shafts, idle"),
                          {},
                          {},
                          {},
                          {},
                          {},
                          {},
                          {},
                          {},
                          figure(row.idle_heat_into_sump_W),
                          {},
                          {},
                          {},
                          {},
                          {}});
    table.rows.push_back({words("total"),
                          {},
                          {},
                          {},
                          {},
                          figure(row.total_W),
                          {},
                          {},
                          {},
                          figure(row.heat_into_sump_W),
                          {},
                          {},
                          {},
                          {},
                          {}});
  }
  return table;
}

/// One column a contact: their figures stand side by side.
Table service_table(const std::vector<study::ServiceRow>& rows, Footnotes& notes) {
  using Row = study::ServiceRow;
  Table table{.columns = {{"over its service", "", Align::left}}, .rows = {}};
  for (const Row& row : rows) table.columns.push_back({row.component, "", Align::left});
  const auto line = [&](const std::string& what, const auto& cell) {
    std::vector<Cell> cells{words(what)};
    for (const Row& row : rows) cells.push_back(cell(row));
    // What no contact of the variant has is left out.
    const std::string nothing = figure(std::optional<double>{}).text;
    if (std::any_of(cells.begin() + 1, cells.end(),
                    [&](const Cell& c) { return c.text != nothing; }))
      table.rows.push_back(std::move(cells));
  };
  const auto figures = [&](const std::string& what, auto Row::*member) {
    line(what, [&](const Row& row) { return figure(row.*member); });
  };
  figures("running, h", &Row::hours);
  figures("way slid, km", &Row::way_km);
  figures("temperature that ages it, °C", &Row::ageing_temperature_degC);
  figures("line force, new, N/mm", &Row::line_force_N_per_mm);
  figures("line force, middle, N/mm", &Row::line_force_middle_N_per_mm);
  figures("line force, end, N/mm", &Row::line_force_end_N_per_mm);
  figures("contact width, new, mm", &Row::contact_width_mm);
  figures("contact width, end, mm", &Row::contact_width_end_mm);
  figures("wear, µm", &Row::wear_um);
  figures("worn out after, h", &Row::worn_out_after_h);
  figures("groove in the shaft, µm", &Row::shaft_groove_um);
  figures("debris, mg/1000 h", &Row::debris_mg_per_1000h);
  figures("resistance, new, Ω", &Row::resistance_ohm);
  figures("resistance, middle, Ω", &Row::resistance_middle_ohm);
  figures("resistance, end, Ω", &Row::resistance_end_ohm);
  line("basis", [](const Row& row) { return words(std::string(to_word(row.basis))); });
  line("notes", [&](const Row& row) { return marks(row.flags, notes); });
  return table;
}

std::vector<std::string> points_of(const std::vector<study::BudgetRow>& rows) {
  std::vector<std::string> out;
  for (const study::BudgetRow& row : rows)
    if (std::find(out.begin(), out.end(), row.point) == out.end()) out.push_back(row.point);
  return out;
}

}  // namespace

void print_budget(const study::Findings& findings, Page& page) {
  for (const study::VariantFindings& variant : findings.variants) {
    for (const std::string& point : points_of(variant.budget)) {
      Footnotes notes;
      page.heading("Watts at " + point + ", " + variant.id);
      page.table(budget_table(variant, point, notes));
      page.notes(notes);
    }
    print_account(variant, page);
    if (variant.service.empty()) continue;
    Footnotes notes;
    page.heading("Contacts over their service, " + variant.id + " (forces at 20 °C)");
    page.table(service_table(variant.service, notes));
    page.notes(notes);
  }
}

}  // namespace ohmdrag::report

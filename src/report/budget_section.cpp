#include <algorithm>

#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

Table budget_table(const std::vector<study::BudgetRow>& rows, const std::string& point,
                   Footnotes& notes) {
  Table table{.columns = {{"component", "", Align::left},
                          {"kind", "", Align::left},
                          {"shaft speed", "rpm"},
                          {"surface speed", "m/s"},
                          {"torque", "N·m"},
                          {"own power", "W"},
                          {"net power", "W"},
                          {"contact temperature", "°C"},
                          {"allocation", "W"},
                          {"margin", "W"},
                          {"maturity", "", Align::left},
                          {"basis", "", Align::left},
                          {"notes", "", Align::left}},
              .rows = {}};
  for (const study::BudgetRow& row : rows) {
    if (row.point != point) continue;
    table.rows.push_back({words(row.component), words(row.kind), figure(row.shaft_speed_rpm),
                          figure(row.surface_speed_mps), figure(row.torque_Nm), figure(row.own_W),
                          figure(row.net_W), figure(row.contact_temperature_degC),
                          figure(row.allocation_W), figure(row.margin_W), words(row.maturity),
                          words(std::string(to_word(row.basis))), marks(row.flags, notes)});
  }
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
      page.table(budget_table(variant.budget, point, notes));
      page.notes(notes);
    }
  }
}

}  // namespace ohmdrag::report

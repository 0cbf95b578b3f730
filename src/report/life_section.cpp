#include <fmt/format.h>

#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

/// One column for each law that any bearing of the variant has, in the order of the case.
std::vector<std::string> laws_of(const std::vector<study::LifeRow>& rows) {
  std::vector<std::string> out;
  for (const study::LifeRow& row : rows)
    for (const study::ElectricalLife& life : row.electrical)
      if (std::find(out.begin(), out.end(), life.law) == out.end()) out.push_back(life.law);
  return out;
}

Cell electrical_hours(const study::LifeRow& row, const std::string& law, Footnotes& notes) {
  for (const study::ElectricalLife& life : row.electrical) {
    if (life.law != law) continue;
    const std::string mark = life.remark.empty() ? "" : fmt::format(" {}", notes.mark(life.remark));
    if (life.no_limit) return words("no electrical limit" + mark);
    Cell cell = figure(life.hours);
    (cell.tail.empty() ? cell.text : cell.tail) += mark;
    return cell;
  }
  return {};
}

Table life_table(const std::vector<study::LifeRow>& rows, Footnotes& notes) {
  Table table{.columns = {{"bearing or other way", "", Align::left},
                          {"basic rating life", "h"},
                          {"basic rating life with its spread", "h"},
                          {"modified rating life", "h"},
                          {"modified rating life with its spread", "h"},
                          {"viscosity ratio, mean while turning", "1"},
                          {"service", "h"},
                          {"service distance", "km"},
                          {"striking time share", "%"},
                          {"expected time share", "%"},
                          {"conducting time share", "%"},
                          {"discharges", "1/s"},
                          {"discharge energy per 1000 km", "J"},
                          {"discharge energy per 1000 h", "J"},
                          {"dose per 1000 h", "J/mm²"},
                          {"dose factor, baseline to variant", "1"}},
              .rows = {},
              .turn = Turn::if_wide};
  const std::vector<std::string> laws = laws_of(rows);
  for (const std::string& law : laws) table.columns.push_back({"electrical life, law " + law, "h"});
  table.columns.insert(table.columns.end(), {{"combined lives start from", "", Align::left},
                                             {"combined life, competing risks", "h"},
                                             {"combined life, linear damage", "h"},
                                             {"event probability in service", "%"},
                                             {"notes", "", Align::left}});
  const auto or_blank = [](const auto& value) { return value ? figure(*value) : Cell{}; };
  for (const study::LifeRow& row : rows) {
    std::vector<Cell> cells{
        words(row.bearing),
        row.kind == "bearing" ? figure(row.mechanical_basic_h) : Cell{},
        row.kind == "bearing" ? figure(row.mechanical_basic_interval_h) : Cell{},
        or_blank(row.mechanical_modified_h),
        or_blank(row.mechanical_modified_interval_h),
        or_blank(row.viscosity_ratio),
        or_blank(row.service_hours),
        or_blank(row.service_distance_km),
        figure(row.striking_time_share, 100.0),
        figure(row.expected_time_share, 100.0),
        figure(row.conducting_time_share, 100.0),
        or_blank(row.discharge_rate_per_s),
        or_blank(row.discharge_energy_J_per_1000km),
        or_blank(row.discharge_energy_J_per_1000h),
        or_blank(row.dose_J_per_mm2_per_1000h),
        row.no_discharge ? words("no discharge in the model") : or_blank(row.dose_factor)};
    for (const std::string& law : laws) cells.push_back(electrical_hours(row, law, notes));
    cells.push_back(row.combined_from.empty() ? Cell{} : words(row.combined_from));
    cells.push_back(or_blank(row.combined_competing_h));
    cells.push_back(or_blank(row.combined_linear_h));
    cells.push_back(row.event_probability_in_service
                        ? figure(*row.event_probability_in_service, 100.0)
                        : Cell{});
    cells.push_back(marks(row.flags, notes));
    table.rows.push_back(std::move(cells));
  }
  return table;
}

std::string in_words(const study::LifeSystem& system) {
  std::string text = system.bearings == 1
                         ? "The only bearing"
                         : fmt::format("All {} bearings together", system.bearings);
  text += fmt::format(": basic rating life {} h (one unit in ten has failed)",
                      print_interval(system.basic_h));
  if (system.modified_h)
    text += fmt::format("; modified {} h at a survival of {} %, oil of class {}",
                        print_interval(*system.modified_h),
                        print_number(100.0 * system.reliability, 4), system.cleanliness);
  text += fmt::format("; Weibull slope {}.", print_number(system.slope, 3));
  if (!system.service_hours) return text;
  text += fmt::format(" Service: {} h", print_number(*system.service_hours, 3));
  if (system.service_distance_km)
    text += fmt::format(", {} km", print_number(*system.service_distance_km, 3));
  return text + ".";
}

}  // namespace

void print_life(const study::Findings& findings, Page& page) {
  for (const study::VariantFindings& variant : findings.variants) {
    if (variant.life.empty()) continue;
    Footnotes notes;
    page.heading("Discharges and bearing life over the service, " + variant.id);
    page.table(life_table(variant.life, notes));
    page.notes(notes);
    if (variant.life_system) {
      page.space();
      page.say(in_words(*variant.life_system));
    }
    for (const study::LifeRow& row : variant.life) {
      if (row.credits.empty()) continue;
      page.space();
      page.say("Discharge at " + row.bearing + " over the pulse-duration credit t0:");
      print_credits(row.credits, true, page);
    }
  }
}

}  // namespace ohmdrag::report

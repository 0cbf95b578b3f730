#include <fmt/format.h>

#include <array>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

Table table_of(const study::YearsFindings& years) {
  Table table{.columns = {{"age", "", Align::left},
                          {"running", "h"},
                          {"force", "N/mm"},
                          {"resistance", "ohm"},
                          {"striking", "%"},
                          {"discharges", "1/s"},
                          {"dose per 1000 h", "J/mm²"},
                          {"striking, open", "%"},
                          {"dose per 1000 h, open", "J/mm²"},
                          {"element", "W"}},
              .rows = {},
              .turn = Turn::if_wide};
  for (const study::YearsAge& row : years.ages) {
    const bool open = row.resistance_ohm && std::isinf(*row.resistance_ohm);
    table.rows.push_back({words(row.age), figure(row.hours), figure(row.line_force_N_per_mm),
                          open ? words("open") : figure(row.resistance_ohm),
                          figure(100.0 * row.striking_time_share), figure(row.discharge_rate_per_s),
                          figure(row.dose_J_per_mm2_per_1000h),
                          figure(100.0 * row.open_striking_time_share),
                          figure(row.open_dose_J_per_mm2_per_1000h), figure(row.element_W)});
  }
  return table;
}

Table survival_table(const std::vector<study::YearsStep>& steps) {
  Table table{.columns = {{"service", "%", Align::left},
                          {"running", "h"},
                          {"with the element", "%"},
                          {"element fails open", "%"},
                          {"baseline", "%"},
                          {"fatigue alone", "%"}},
              .rows = {}};
  const auto per_cent = [](double share) {
    constexpr int digits = 4;
    return words(print_number(100.0 * share, digits));
  };
  for (const std::size_t i : {steps.size() / 5, steps.size() / 2, steps.size() - 1})
    table.rows.push_back({per_cent(steps[i].share_of_service), figure(steps[i].hours),
                          per_cent(steps[i].survival), per_cent(steps[i].open_survival),
                          per_cent(steps[i].baseline_survival),
                          per_cent(steps[i].fatigue_survival)});
  return table;
}

void print_steps(const study::YearsFindings& years, Page& page) {
  constexpr int digits = 3;
  const study::YearsStep& end = years.steps.back();
  const std::string distance =
      years.service_distance_km
          ? fmt::format(", {} km", print_number(*years.service_distance_km, digits))
          : "";
  page.say(fmt::format(
      "Over {} running hours{}: {} kWh rubbed off by the element, {} J/mm² of dose. Failed open "
      "from the start: the same kWh, {} J/mm². The baseline: {} J/mm².",
      print_number(end.hours, digits), distance, print_number(end.element_kWh, digits),
      print_number(end.dose_J_per_mm2, digits), print_number(end.open_dose_J_per_mm2, digits),
      print_number(end.baseline_dose_J_per_mm2, digits)));
  page.space();
  page.say("Survival of all bearings. " + years.survival_in_words);
  page.table(survival_table(years.steps));
}

}  // namespace

void print_years(const study::Findings& findings, Page& page) {
  std::string remark;
  for (const study::VariantFindings& variant : findings.variants) {
    if (!variant.years || !variant.years->has_element) continue;
    page.heading("Over the years, " + variant.id);
    page.table(table_of(*variant.years));
    page.say(variant.years->sentence);
    if (!variant.years->steps.empty()) print_steps(*variant.years, page);
    remark = variant.years->remark;  // the same for all
  }
  if (remark.empty()) return;
  page.space();
  page.say(remark);
}

}  // namespace ohmdrag::report

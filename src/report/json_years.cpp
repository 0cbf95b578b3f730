#include "report/json_rows.hpp"

namespace ohmdrag::report {

Json to(const study::YearsAge& row) {
  return {{"age", row.age},
          {"share_of_life", number(row.share_of_life)},
          {"hours", to(row.hours)},
          {"line_force_N_per_mm", to(row.line_force_N_per_mm)},
          {"resistance_ohm", to(row.resistance_ohm)},
          {"open", row.resistance_ohm && std::isinf(*row.resistance_ohm)},
          {"striking_time_share", number(row.striking_time_share)},
          {"discharge_rate_per_s", number(row.discharge_rate_per_s)},
          {"dose_J_per_mm2_per_1000h", number(row.dose_J_per_mm2_per_1000h)},
          {"open_striking_time_share", number(row.open_striking_time_share)},
          {"open_discharge_rate_per_s", number(row.open_discharge_rate_per_s)},
          {"open_dose_J_per_mm2_per_1000h", number(row.open_dose_J_per_mm2_per_1000h)},
          {"element_W", number(row.element_W)}};
}

Json to(const study::YearsStep& step) {
  return {{"share_of_service", number(step.share_of_service)},
          {"hours", number(step.hours)},
          {"discharges", number(step.discharges)},
          {"dose_J_per_mm2", number(step.dose_J_per_mm2)},
          {"open_dose_J_per_mm2", number(step.open_dose_J_per_mm2)},
          {"baseline_dose_J_per_mm2", number(step.baseline_dose_J_per_mm2)},
          {"element_kWh", number(step.element_kWh)},
          {"survival", number(step.survival)},
          {"baseline_survival", number(step.baseline_survival)},
          {"open_survival", number(step.open_survival)},
          {"fatigue_survival", number(step.fatigue_survival)}};
}

Json to(const study::Protection& protection) {
  return {{"word", protection.word},
          {"lost_at_share_of_life", to(protection.lost_at)},
          {"lost_after_h", to(protection.after_h)},
          {"lost_after_km", to(protection.after_km)},
          {"lost_after_years", to(protection.after_years)}};
}

Json to(const study::YearsFindings& years) {
  return {{"has_element", years.has_element},
          {"elements", number(years.elements)},
          {"ages", list(years.ages)},
          {"steps", list(years.steps)},
          {"service_distance_km", to(years.service_distance_km)},
          {"survival_law", word_or_null(years.survival_law)},
          {"survival_in_words", word_or_null(years.survival_in_words)},
          {"protection_by_striking_time", to(years.by_striking)},
          {"protection_by_dose", to(years.by_dose)},
          {"worn_out_after_h", to(years.worn_out_after_h)},
          {"sentence", years.sentence},
          {"remark", years.remark}};
}

}  // namespace ohmdrag::report

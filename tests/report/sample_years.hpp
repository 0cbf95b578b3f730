#pragma once

#include <limits>

#include "ohmdrag/study/years_findings.hpp"

/// The years of a variant built by hand: every figure is invented and none is meant to be physical.
namespace ohmdrag::test {

inline study::YearsFindings sample_years(bool grounded) {
  study::YearsFindings years;
  years.by_striking.word = years.by_dose.word = "none";
  years.sentence = "No path to the housing is known: nothing protects.";
  years.remark = "Everything at its middle.";
  study::YearsAge row{.age = "begin",
                      .share_of_life = 0.0,
                      .hours = 0.0,
                      .line_force_N_per_mm = {},
                      .resistance_ohm = {},
                      .striking_time_share = 0.871,
                      .discharge_rate_per_s = 4137.0,
                      .dose_J_per_mm2_per_1000h = 183.6,
                      .open_striking_time_share = 0.871,
                      .open_discharge_rate_per_s = 4137.0,
                      .open_dose_J_per_mm2_per_1000h = 183.6,
                      .element_W = 0.0};
  if (grounded) {
    years.has_element = true;
    years.elements = 1.25;
    years.sentence = "By striking time: lost after about 4100 running hours.";
    years.by_striking = {"lost", 0.837, 4097.0, 187431.0, 8.03};
    years.by_dose = {"kept", {}, {}, {}, {}};
    years.worn_out_after_h = 4871.0;
    row.line_force_N_per_mm = 0.0152;
    row.resistance_ohm = 2.73;
    row.striking_time_share = 0.0437;
    row.element_W = 3.91;
  }
  years.ages.push_back(row);
  row.age = "middle";
  row.share_of_life = 0.5;
  row.hours = 2448.0;
  years.ages.push_back(row);
  row.age = "end";
  row.share_of_life = 1.0;
  row.hours = 4896.0;
  if (grounded) row.resistance_ohm = std::numeric_limits<double>::infinity();
  years.ages.push_back(row);
  for (const double share : {0.0, 0.5, 1.0})
    years.steps.push_back({.share_of_service = share,
                           .hours = 6120.0 * share,
                           .discharges = 9.1e10 * share,
                           .dose_J_per_mm2 = (grounded ? 271.3 : 1123.6) * share,
                           .open_dose_J_per_mm2 = 1123.4 * share,
                           .baseline_dose_J_per_mm2 = 1123.6 * share,
                           .element_kWh = grounded ? 23.93 * share : 0.0,
                           .survival = 1.0 - (grounded ? 0.0613 : 0.713) * share,
                           .baseline_survival = 1.0 - 0.713 * share,
                           .open_survival = 1.0 - 0.7137 * share,
                           .fatigue_survival = 1.0 - 0.0217 * share});
  years.service_distance_km = 280000.0;
  years.survival_law = "dose";
  years.survival_in_words = "Fatigue and erosion under the dose law.";
  return years;
}

}  // namespace ohmdrag::test

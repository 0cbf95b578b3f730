#pragma once

#include <optional>
#include <string>
#include <vector>

/// What comes together over the years: force, resistance, discharges, dose and watts of one variant
/// from the begin of its service to the end, everything at its middle. A figure that does not exist
/// is NaN, an open contact has an infinite resistance.
namespace ohmdrag::study {

/// A variant whose contacts have reached an age; means over the running time of the service mix.
/// All ways to the frame together; the doses of two ways are added.
struct YearsAge {
  std::string age;              ///< "begin", "middle", "end"
  double share_of_life = 0.0;   ///< of the element; every other contact at this share of its own
  std::optional<double> hours;  ///< running, of the element
  std::optional<double> line_force_N_per_mm;  ///< of the grounding contact, at 20 degC
  std::optional<double> resistance_ohm;       ///< from shaft to housing, at rest and 20 degC
  double striking_time_share = 0.0;
  double discharge_rate_per_s = 0.0;
  double dose_J_per_mm2_per_1000h = 0.0;
  // The same unit with a grounding contact that rubs and does not conduct.
  double open_striking_time_share = 0.0;
  double open_discharge_rate_per_s = 0.0;
  double open_dose_J_per_mm2_per_1000h = 0.0;
  double element_W = 0.0;  ///< rubbed off by the grounding contact
};

/// What has come together by a share of the service.
struct YearsStep {
  double share_of_service = 0.0;
  double hours = 0.0;  ///< running
  double discharges = 0.0;
  double dose_J_per_mm2 = 0.0;
  double open_dose_J_per_mm2 = 0.0;      ///< the element failed open from the start
  double baseline_dose_J_per_mm2 = 0.0;  ///< of the baseline variant
  double element_kWh = 0.0;              ///< rubbed off; the same if it has failed open
  double survival = 0.0;                 ///< of all bearings
  double baseline_survival = 0.0;
  double open_survival = 0.0;     ///< the element failed open from the start
  double fatigue_survival = 0.0;  ///< of all bearings, nothing eroded by discharges
};

/// Whether and when an element comes within a tenth of what strikes without a path.
struct Protection {
  std::string word;               ///< "none", "unknown", "not-needed", "never", "lost", "kept"
  std::optional<double> lost_at;  ///< share of the element's life
  std::optional<double> after_h;  ///< running
  std::optional<double> after_km;
  std::optional<double> after_years;
};

struct YearsFindings {
  bool has_element = false;      ///< a path to the housing is known
  double elements = 1.0;         ///< used up one after another over the service
  std::vector<YearsAge> ages;    ///< begin, middle, end
  std::vector<YearsStep> steps;  ///< empty: the case does not say how long the service is
  std::optional<double> service_distance_km;  ///< driving
  Protection by_striking;                     ///< by the striking time share
  Protection by_dose;
  std::optional<double> worn_out_after_h;  ///< running; only within its life
  std::string sentence;                    ///< protection in words
  std::string survival_law;                ///< of erosion in `survival`; empty: fatigue alone
  std::string survival_in_words;           ///< what the survival counts
  std::string remark;                      ///< what the figures rest on
};

}  // namespace ohmdrag::study

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/quantity/uncertain.hpp"

/// What stands on the shaft, what of it discharges and where: the electrical half of findings.hpp.
namespace ohmdrag::study {

/// A remark that belongs to figures: a formula outside its range, a missing input, an estimate.
struct Flag {
  std::string code;         ///< stable word, "mixed-film-range"
  std::string text;         ///< formula, range, worst value and how often, in a sentence
  bool kept_limit = false;  ///< a limit that is kept, with its margin
  bool operator==(const Flag&) const = default;
};

struct ImpedancePoint {
  double frequency_Hz = 0.0;
  Interval magnitude;
  double phase_deg = 0.0;
};

struct BandReduction {
  std::string name;
  double from_Hz = 0.0;
  double to_Hz = 0.0;
  Interval reduction_dB;  ///< smallest in the band; negative: amplified
};

/// The credit t0 of the headline, one of those that stand side by side.
inline constexpr double headline_credit_us = 0.3;

/// The verdict for one pulse-duration credit t0 (all shown side by side, never one alone).
struct CreditVerdict {
  double t0_us = 0.0;
  std::string held;  ///< none, possible, expected
  std::string edge;
  double striking_time_share = 0.0;  ///< duty tables only
};

/// The common mode and the shaft around one carrier period; the nominal case.
struct WaveformPoint {
  double time_s = 0.0;
  double common_mode_V = 0.0;
  double without_V = 0.0;  ///< of the path
  double with_V = 0.0;
};

/// The strongest line of the shaft voltage in a part of the spectrum; the nominal case.
struct SpectrumBin {
  double from_Hz = 0.0;
  double to_Hz = 0.0;
  double without_V = 0.0;  ///< peak of a line
  double with_V = 0.0;
};

/// One way from the shaft to the frame, in competition with all others.
struct PathRow {
  std::string id;
  std::string kind;                      ///< "bearing", "gear-mesh", "driven-machine", "stated"
  std::optional<double> capacitance_pF;  ///< as the shaft sees it; none: conducts
  double film_share = 1.0;               ///< of the shaft voltage that stands on what breaks down
  std::optional<Interval> threshold_V;   ///< of the shaft voltage: 5, 50 and 95 % points
  double stress = 0.0;                   ///< shaft voltage over the middle threshold
  bool conducting = false;
  bool struck = false;
};

/// What was published about a range of apparent current density; it judges no figure.
struct DensityStatement {
  double from_A_mm2 = 0.0;  ///< 0: everything up to the other end
  double up_to_A_mm2 = 0.0;
  std::string statement;
  Basis basis = Basis::assumed;
  std::string source;
};

/// What happens when it strikes; no figures where nothing does.
struct DischargeRow {
  std::string path;
  Interval energy_J;  ///< of one discharge at min(voltage, threshold)
  Interval peak_current_A;
  Interval apparent_density_A_mm2;  ///< peak current over the Hertz area of the inner ring
  Interval rate_per_s;
  std::optional<Interval> rate_per_km;
  Interval power_W;            ///< of all discharges
  Interval dose_rate_J_mm2_h;  ///< per hour of running at this point
  Interval dwell_us;           ///< an edge above the threshold, the legs of the verdict
  double one_leg_edges_per_s = 0.0;
  double two_leg_edges_per_s = 0.0;
  double three_leg_edges_per_s = 0.0;
  Interval fallen_threshold_V;  ///< after a first discharge
  std::string verdict_after_first;
};

struct VoltageRow {
  std::string point;
  double shaft_speed_rpm = 0.0;
  double oil_degC = 0.0;
  double modulation_index = 0.0;
  std::vector<ImpedancePoint> impedance_ohm;  ///< begin of service; empty without grounding
  std::vector<ImpedancePoint> impedance_end_of_service_ohm;
  Interval bearing_voltage_ratio;
  Interval edge_step_V;  ///< one leg, without path
  Interval edge_peak_V;  ///< one leg, with path
  Interval edge_peak_two_legs_V;
  Interval edge_peak_three_legs_V;
  Interval held_V;
  Interval threshold_V;
  Interval film_um;
  Interval film_ratio;
  Interval discharge_probability_per_edge;
  std::string struck_path;  ///< bearing id
  std::string regime;       ///< conducting, holding, striking
  std::vector<CreditVerdict> verdicts;
  std::vector<BandReduction> bands;
  std::string in_words;  ///< what the element does to voltage between edges, spikes, oscillation
  std::vector<PathRow> paths;
  std::string paths_in_words;
  /// Peak through a bearing that conducts at an edge of one leg; none where none conducts.
  std::optional<Interval> conducting_current_A;
  std::optional<DischargeRow> discharge;
  std::vector<SpectrumBin> spectrum;
  std::vector<WaveformPoint> waveform;
  std::vector<Flag> flags;
};

/// Where it strikes over shaft speed and oil temperature, with the duty's time on top; the nominal
/// case with the element at the end of its service.
struct StrikeCell {
  std::string regime;              ///< conducting, holding, striking
  std::string verdict;             ///< at the headline credit, threshold by the film
  std::string without_credit;      ///< at t0 = 0
  std::string by_fixed_threshold;  ///< with the measured spread of thresholds in place of the film
  double film_ratio = 0.0;
  double held_V = 0.0;
  double edge_V = 0.0;                  ///< of as many legs as the verdict takes
  std::optional<Interval> threshold_V;  ///< 5, 50 and 95 % points
  double time_share = 0.0;              ///< of the time of the service mix, rests included
};

/// Time of one duty over the cells of a strike map.
struct DutyTime {
  std::string duty;
  std::vector<std::vector<double>> time_share;  ///< [oil][speed], of the duty's own time
};

struct StrikeMap {
  std::vector<double> shaft_speed_rpm;         ///< middles of the columns
  std::vector<double> oil_degC;                ///< middles of the rows
  std::vector<double> torque_Nm;               ///< of each column
  std::vector<std::vector<StrikeCell>> cells;  ///< [oil][speed]
  std::vector<DutyTime> duties;
  /// Of each row: the shaft speed below which a bearing conducts; none: it does at every speed.
  std::vector<std::optional<double>> conducting_below_rpm;
  Interval fixed_threshold_V;  ///< 5, 50 and 95 % points behind by_fixed_threshold
  // Moment by moment of the duties, each with its own torque and oil; they add up to 1.
  double standstill_time_share = 0.0;
  double conducting_time_share = 0.0;
  double holding_time_share = 0.0;
  double striking_time_share = 0.0;
};

}  // namespace ohmdrag::study

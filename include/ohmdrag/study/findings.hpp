#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/study/course_findings.hpp"
#include "ohmdrag/study/harm_findings.hpp"
#include "ohmdrag/study/sensitivity_findings.hpp"
#include "ohmdrag/study/sizing_findings.hpp"
#include "ohmdrag/study/voltage_findings.hpp"
#include "ohmdrag/study/years_findings.hpp"

/// One answer, complete. The report room only lays it out: every figure is here, in the unit its
/// name says, as the JSON document names it.
namespace ohmdrag::study {

struct BudgetRow {
  std::string point;
  std::string component;  ///< "seal", "grounding", a bearing's or extra's id
  std::string kind;  ///< "lip-seal", "dry-ring", "brush", "published-rule", "stated", "bearing"
  std::string title;
  std::string shaft;
  double shaft_speed_rpm = 0.0;
  double surface_speed_mps = 0.0;
  Interval torque_Nm;
  Interval own_W;
  Interval net_W;
  std::optional<Interval> own_end_of_service_W;  ///< contacts whose service is known
  std::optional<Interval> contact_temperature_degC;
  std::optional<Interval> heat_into_sump_W;
  std::optional<double> allocation_W;
  std::optional<double> margin_W;
  std::string maturity;
  Basis basis = Basis::assumed;
  std::vector<Flag> flags;
};

/// A component in the account of a place.
struct AccountPart {
  std::string component;
  Interval own_W;  ///< at the point, or the mean over the duty
  std::optional<double> allocation_W;
  std::optional<double> margin_W;
  std::string maturity;
};

/// All components of a variant at an operating point or over a duty, against what was given them.
struct AccountRow {
  std::string point;  ///< empty: of a duty
  std::string duty;   ///< empty: at a point
  Interval total_W;   ///< own watts of all parts, added draw by draw; of a duty the mean
  std::vector<AccountPart> parts;
  std::optional<Interval> heat_into_sump_W;       ///< points: of the parts and the idle flow
  std::optional<Interval> idle_heat_into_sump_W;  ///< through the shafts without any friction
  double allocated_W = 0.0;                       ///< sum of the allocations of these components
  std::optional<double> target_W;
  std::optional<double> reserve_W;       ///< target less what is allocated
  std::optional<double> margin_W;        ///< target less the high end of the total
  std::optional<double> probability;     ///< share of the draws whose total meets the target
  std::optional<double> share_of_parts;  ///< that the case asks for
  std::optional<bool> met;               ///< probability >= share_of_parts
};

/// A total shared out to the components of a variant.
struct SplitPart {
  std::string component;
  Interval own_W;  ///< that the share follows
  double max_W = 0.0;
};
struct SplitRow {
  std::string point;  ///< as in AccountRow
  std::string duty;
  std::string by;  ///< "present", "equal-margin"
  double total_W = 0.0;
  std::vector<SplitPart> parts;  ///< their max_W add up to total_W
  std::vector<Flag> flags;
};

/// What a small constant loss at one shaft costs over one duty. Every figure names the boundary at
/// which it is counted.
struct WorthRow {
  std::string duty;
  std::string shaft;
  std::string loss;                           ///< "1 W" or "1 N*m", all the time the shaft turns
  std::optional<Interval> shaft_Wh_per_km;    ///< driving
  std::optional<Interval> battery_Wh_per_km;  ///< driving
  std::optional<Interval> battery_kWh_at_equal_range;  ///< more usable battery for the same range
  std::optional<Interval> battery_kWh_over_service;
  std::optional<Interval> plug_kWh_over_service;  ///< with the charging efficiency of the prices
  std::optional<Interval> plug_cost_over_service;
  std::optional<Interval> shaft_kWh_per_year;  ///< machines
  std::optional<Interval> plug_kWh_per_year;
  std::optional<Interval> plug_cost_per_year;
  std::string currency;  ///< of the costs; empty: the case states no price of energy
};

/// A contact over its service. Forces at 20 degC, on the shaft as its fit leaves it.
struct ServiceRow {
  std::string component;
  std::string title;
  std::optional<double> hours;   ///< running; empty: nothing ages
  std::optional<double> way_km;  ///< slid
  std::optional<double> ageing_temperature_degC;
  Interval line_force_N_per_mm;  ///< new
  Interval line_force_middle_N_per_mm;
  Interval line_force_end_N_per_mm;
  Interval contact_width_mm;
  Interval contact_width_end_mm;
  std::optional<Interval> wear_um;  ///< radial, off the contact, at the end
  std::optional<Interval> shaft_groove_um;
  std::optional<Interval> debris_mg_per_1000h;
  std::optional<Interval> worn_out_after_h;  ///< running, where a wear length is known
  std::optional<Interval> resistance_ohm;    ///< grounding contact, without its path
  std::optional<Interval> resistance_middle_ohm;
  std::optional<Interval> resistance_end_ohm;
  Basis basis = Basis::assumed;  ///< the weakest of the element's numbers
  std::vector<Flag> flags;
};

struct EnergyRow {
  std::string duty;
  std::string phase;      ///< "whole" for all of it
  std::string component;  ///< as in BudgetRow; "total" for the sum; "net" for the difference to the
                          ///< baseline
  std::optional<double> distance_km;  ///< driving only
  std::optional<Interval> shaft_Wh_per_km;
  std::optional<Interval> battery_Wh_per_km;   ///< difference to the vehicle without this loss
  std::optional<Interval> range_change_km;     ///< against the baseline variant; "net" rows only
  Interval mean_W;                             ///< over the whole time
  std::optional<Interval> kWh_per_year;        ///< machines, at the shaft; of a phase its part
  std::optional<Interval> plug_cost_per_year;  ///< machines, with the charging efficiency
  std::string currency;                        ///< of the cost; empty: no price of energy
  std::optional<Interval> end_oil_temperature_degC;
  std::vector<Flag> flags;
};

/// One measured trip of a duty.
struct TripRow {
  std::string duty;
  std::string trip;  ///< the name of its file
  double time_s = 0.0;
  double distance_km = 0.0;
  double covered_share = 0.0;                 ///< of the time from its first to its last sample
  std::optional<Interval> shaft_Wh_per_km;    ///< all parts; none without way
  std::optional<Interval> battery_Wh_per_km;  ///< difference to the vehicle without these losses
  std::optional<Interval> mean_W;             ///< all parts, over the time covered
  std::optional<Interval> end_oil_temperature_degC;
  std::string report;  ///< what the log was found to be, in a sentence
  std::string error;   ///< why it was left out; then there are no figures
};

struct ElectricalLife {
  std::string law;
  Interval hours;
  bool no_limit = false;  ///< the law consumes nothing in this variant
  std::string remark;     ///< the law's blind spot, always
};

struct LifeRow {
  std::string bearing;
  std::string kind = "bearing";  ///< or that of another path to the frame: then nothing rolls
  double mechanical_basic_h = 0.0;
  Interval mechanical_basic_interval_h;
  std::optional<double>
      mechanical_modified_h;  ///< none: the case does not say how clean the oil is
  std::optional<Interval> mechanical_modified_interval_h;
  std::optional<Interval> viscosity_ratio;  ///< mean over the turning time
  std::optional<double> service_hours;
  std::optional<double> service_distance_km;  ///< driving
  Interval striking_time_share;
  Interval expected_time_share;
  Interval conducting_time_share;  ///< film too thin to insulate: damage there is not modelled
  std::optional<Interval> discharge_rate_per_s;
  std::optional<Interval> discharge_energy_J_per_1000km;
  std::optional<Interval> discharge_energy_J_per_1000h;
  std::optional<Interval> dose_J_per_mm2_per_1000h;
  std::optional<Interval> dose_factor;  ///< baseline / variant; high may be infinite
  bool no_discharge = false;            ///< nothing strikes in the model
  std::vector<CreditVerdict> credits;   ///< share of driving time over t0
  std::vector<ElectricalLife> electrical;
  std::string combined_from;  ///< "modified", "basic": the rating life that combined lives start at
  std::optional<Interval> combined_linear_h;
  std::optional<Interval> combined_competing_h;
  std::optional<Interval> event_probability_in_service;
  std::vector<Flag> flags;
};

/// All bearings of a variant together: the age at which the first of them has failed in as many
/// units as the reliability allows.
struct LifeSystem {
  int bearings = 0;
  double slope = 0.0;                  ///< Weibull, common to all of them
  Interval basic_h;                    ///< at a survival of 0.9
  std::optional<Interval> modified_h;  ///< at `reliability`
  double reliability = 0.9;            ///< of every modified life of the variant
  std::string cleanliness;             ///< class of the oil; empty: no modified life
  std::optional<double> service_hours;
  std::optional<double> service_distance_km;  ///< driving
};

/// What a requirement "this share of the parts with this confidence" comes to: what is not known
/// (spread) and what differs from part to part (scatter) kept apart.
struct ShareOfParts {
  double share_asked = 0.0, confidence_asked = 0.0;
  enum class Way {
    nested,            ///< parts drawn at each of many states of what is not known
    order_statistics,  ///< nothing but scatter: independent parts, by the binomial distribution
    alike,             ///< no scatter: all parts meet it or none
    none,              ///< could not be asked; the remark says why
  } way = Way::nested;
  Interval share;                    ///< of the parts that meet it, over the states
  double share_at_confidence = 0;    ///< of the parts, met at least with the confidence asked for
  double confidence_of_share = 0;    ///< with which at least the share asked for meets it
  int states = 0, parts = 0;         ///< states of what is not known; parts in each
  double share_known_to = 0.0;       ///< +-, the share of one state out of so many parts, 95 %
  double confidence_known_to = 0.0;  ///< +-, out of so many states, 95 %; 0 without states
  std::string remark;                ///< what so many parts cannot show; may be empty
};

struct RequirementRow {
  std::string id;
  std::string quantity;
  std::string at;  ///< point, band and time of life in words
  double limit = 0.0;
  bool is_max = true;
  Interval value;
  std::string unit;
  bool met = false;  ///< probability >= share_of_parts; with `parts` share_at_confidence is
  double probability = 0.0;
  double margin = 0.0;                        ///< limit - high (max) or low - limit (min)
  std::optional<std::string> not_applicable;  ///< why there is no value
  std::optional<ShareOfParts> parts = {};     ///< where a confidence is asked for
};

/// All components of a variant together, added draw by draw: the ends of their intervals do not
/// add up.
struct EnergyTotal {
  std::string duty;
  std::string phase;                          ///< "whole" for all of it
  std::optional<Interval> shaft_Wh_per_km;    ///< driving only
  std::optional<Interval> battery_Wh_per_km;  ///< driving only
  Interval mean_W;                            ///< over the time of the phase
};

struct VariantFindings {
  std::string id;
  std::string title;
  std::vector<BudgetRow> budget;
  std::optional<SpeedWatts> watts_over_speed;  ///< with an operating point at which a shaft turns
  std::vector<AccountRow> account;
  std::vector<SplitRow> split;
  std::vector<ServiceRow> service;
  std::vector<HarmRow> harm;  ///< against the baseline; empty in the baseline itself
  std::vector<EnergyRow> energy;
  std::vector<EnergyTotal> energy_totals;
  std::vector<TripRow> trips;       ///< of duties of measured trips
  std::vector<DutyCourse> courses;  ///< of the other duties, but for bins without an order
  std::vector<VoltageRow> voltage;
  std::optional<StrikeMap> strike_map;
  std::vector<LifeRow> life;
  std::optional<LifeSystem> life_system;  ///< with bearings and duties
  std::optional<YearsFindings> years;     ///< where discharges can be counted
  std::vector<RequirementRow> requirements;
};

struct BreakEven {
  std::optional<Interval> kWh_per_avoided_event;
  std::optional<Interval> failure_probability;  ///< with prices only
  std::string sentence;
};

struct ExchangeRow {
  std::string variant;
  std::string net_point;  ///< the operating point of point_net_W
  Interval point_net_W;
  std::vector<Interval> net_W_by_point;  ///< in the order of Findings::points
  std::optional<Interval> battery_Wh_per_km;
  std::optional<Interval> kWh_per_year;
  std::optional<Interval> impedance_end_of_service_ohm;
  std::optional<double> impedance_frequency_Hz;
  Interval edge_peak_V;  ///< verdict's legs, worst operating point
  Interval held_V;
  Interval striking_time_share;
  Interval striking_time_share_removed;
  std::optional<Interval> dose_factor;
  bool no_discharge = false;
  // Life of all bearings together at a survival of 0.9 under the first law of the case.
  std::optional<Interval> life_h;              ///< competing risks
  std::optional<Interval> life_gain_h;         ///< against the baseline, draw by draw
  std::optional<Interval> life_gain_linear_h;  ///< the same with linear damage in each bearing
  std::string law;
  std::string life_in_words;
  std::optional<double> service_hours;
  std::optional<double> service_distance_km;  ///< driving
  BreakEven break_even;
  int requirements_met = 0;
  int requirements_asked = 0;
  bool nondominated = false;
  double probability_best = 0.0;
  std::string verdict;  ///< in words: "benefit not demonstrable …", "do not ground here …"
};

/// Rungs 1-7 of the claim ladder; the words are in claim.cpp.
struct Claim {
  int rung = 1;
  std::string sentence;
  std::string missing;  ///< what the next rung would need
};

struct Trade {
  std::vector<std::string> nondominated;
  std::string chosen;  ///< empty: no variant meets the requirements
  double probability_best = 0.0;
  std::string reason;
  Claim claim;
  std::vector<ExchangeRow> exchange;
  std::vector<CreditVerdict> credit_of_chosen;
};

struct Assumption {
  std::string name;
  std::string value;  ///< printed with its interval
  std::string unit;
  Basis basis = Basis::assumed;
  std::string source;
  std::string moves_figure;
  double moves_share = 0.0;
  bool unknown = false;
  Interval interval;              ///< the value as numbers, in the unit
  Share share = Share::customer;  ///< who may read it
};

/// How still the ends of a figure's interval stand.
struct StableEnd {
  std::string variant, figure, unit;
  double low_error = 0.0, high_error = 0.0;  ///< twice the standard deviation of the mean of blocks
  double tolerance = 0.0;                    ///< that both have to meet
  bool still = false;
};
/// What the adaptive procedure came to.
struct Stability {
  int digits = 0;
  int blocks = 0, block = 0;  ///< blocks, and samples in each
  bool still = false;         ///< all figures; false: the largest number of samples did not suffice
  std::vector<StableEnd> figures;
};

/// A headline figure by the first-order law of propagation, beside the ensemble's.
struct FirstOrderRow {
  std::string variant, figure, unit;
  double estimate = 0.0;  ///< everything at its median
  double standard_uncertainty = 0.0;
  Interval first_order;  ///< 95 %
  Interval ensemble;
  double tolerance = 0.0;  ///< half of the last digit of the uncertainty that counts
  double low_difference = 0.0, high_difference = 0.0;
  double ends_known_to = 0.0;  ///< +-, the worse end of the ensemble's interval, 95 %
  enum class Verdict { valid, not_valid, not_settled } verdict = Verdict::not_settled;
  std::string because;
};

struct Findings {
  std::string schema = "ohmdrag-result/1";
  std::string version;
  std::string command;
  std::string title;
  std::string question;
  bool invented = false;
  std::string baseline;
  std::string file;
  std::string sha256;
  std::vector<std::pair<std::string, std::string>> includes;  ///< file, hash
  std::vector<std::string> changes;
  std::string reader;                    ///< level that this edition is for; empty: everything
  std::vector<std::string> sealed_keys;  ///< numbers whose values it does not show
  std::string sealed_sha256;  ///< of what it does not show; empty: nothing, or the case has no seal
  unsigned long long seed = 0;
  int samples = 0;
  std::optional<Stability> stability;      ///< of an adaptive ensemble
  std::vector<FirstOrderRow> first_order;  ///< trade alone
  std::string no_first_order;              ///< why there is none; trade alone
  std::vector<std::string> points;
  std::vector<std::string> duties;
  std::vector<VariantFindings> variants;
  std::vector<WorthRow> watt_worth;
  std::vector<DensityStatement> density_statements;  ///< where something discharges
  std::optional<Trade> trade;
  std::vector<Assumption> assumptions;
  double assumed_share = 0.0;
  std::string headline;                   ///< the figure whose variance assumed_share speaks of
  double assumed_share_of_benefit = 0.0;  ///< the same for the discharge dose
  std::string headline_of_benefit;
  std::vector<std::string> cautions;
  std::optional<SensitivityFindings> sensitivity;  ///< with a trade
  std::optional<SizingFindings> window;            ///< of forces, where it was asked for
};

}  // namespace ohmdrag::study

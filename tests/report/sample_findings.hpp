#pragma once

#include <limits>
#include <string>

#include "ohmdrag/study/findings.hpp"
#include "sample_running.hpp"
#include "sample_sensitivity.hpp"
#include "sample_strikes.hpp"
#include "sample_years.hpp"

/// Findings built by hand: every figure is invented and none is meant to be physical.
namespace ohmdrag::test {

inline constexpr double infinity = std::numeric_limits<double>::infinity();
inline constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

inline const std::vector<std::string> commands{"trade", "budget", "energy", "ground", "life"};

inline study::Flag lip_flag() {
  return {"lip-estimate",
          "Lip friction is an estimate (about ±32 %) calibrated on general loss rules; replace it "
          "by a measured torque."};
}

inline std::vector<study::BudgetRow> sample_budget(bool grounded) {
  const study::BudgetRow seal{.point = "cruise",
                              .component = "seal",
                              .kind = "lip-seal",
                              .title = "Lip with reduced force",
                              .shaft = "rotor",
                              .shaft_speed_rpm = 5843.217,
                              .surface_speed_mps = 13.7671,
                              .torque_Nm = {0.0213, 0.0312, 0.0418},
                              .own_W = {13.1, 19.12, 25.7},
                              .net_W = {12.2, 18.03, 24.6},
                              .own_end_of_service_W = Interval{14.2, 21.4, 29.1},
                              .contact_temperature_degC = Interval{88.0, 97.3, 109.0},
                              .heat_into_sump_W = Interval{6.1, 9.25, 12.9},
                              .allocation_W = 25.0,
                              .margin_W = -0.7,
                              .maturity = "computed",
                              .basis = Basis::unverified,
                              .flags = {lip_flag()}};
  study::BudgetRow bearing{.point = "cruise",
                           .component = "drive-end",
                           .kind = "bearing",
                           .title = "6209",
                           .shaft = "rotor",
                           .shaft_speed_rpm = 5843.217,
                           .surface_speed_mps = 19.9,
                           .torque_Nm = {0.05, 0.0921, 0.16},
                           .own_W = {30.0, 56.4, 98.0},
                           .net_W = {30.0, 56.2, 98.0},
                           .own_end_of_service_W = {},
                           .contact_temperature_degC = {},
                           .heat_into_sump_W = Interval{30.0, 56.4, 98.0},
                           .allocation_W = {},
                           .margin_W = {},
                           .maturity = {},
                           .basis = Basis::handbook,
                           .flags = {}};
  std::vector<study::BudgetRow> rows{seal, bearing};
  if (grounded) {
    study::BudgetRow ring = seal;
    ring.component = "grounding";
    ring.kind = "dry-ring";
    ring.title = "Dense textile ring";
    ring.own_W = {3.41, 4.52, 5.61};
    ring.net_W = {2.93, 4.02, 5.13};
    ring.torque_Nm = {0.0056, 0.0074, 0.0092};
    ring.contact_temperature_degC = Interval{91.0, 99.1, 108.0};
    ring.allocation_W = 6.0;
    ring.margin_W = 0.39;
    ring.flags = {lip_flag(), {"dry-side-assumed", "Dry-side temperature not given: ambient."}};
    rows.push_back(ring);
  }
  for (const std::size_t i : {0U, 1U}) {
    rows.push_back(rows[i]);
    rows.back().point = "climb";
  }
  return rows;
}

inline std::vector<study::ServiceRow> sample_service(bool grounded) {
  const study::ServiceRow seal{.component = "seal",
                               .title = "Lip with reduced force",
                               .hours = 6120.0,
                               .way_km = 203400.0,
                               .ageing_temperature_degC = 81.3,
                               .line_force_N_per_mm = {0.071, 0.082, 0.093},
                               .line_force_middle_N_per_mm = {0.049, 0.061, 0.074},
                               .line_force_end_N_per_mm = {0.041, 0.055, 0.068},
                               .contact_width_mm = {0.1, 0.13, 0.16},
                               .contact_width_end_mm = {0.4, 0.71, 1.1},
                               .wear_um = Interval{90.0, 184.0, 330.0},
                               .shaft_groove_um = Interval{2.0, 9.1, 25.0},
                               .debris_mg_per_1000h = Interval{1.1, 3.4, 9.7},
                               .worn_out_after_h = {},
                               .resistance_ohm = {},
                               .resistance_middle_ohm = {},
                               .resistance_end_ohm = {},
                               .basis = Basis::unverified,
                               .flags = {{"remembered-ageing", "Remembered ageing constants."}}};
  std::vector<study::ServiceRow> rows{seal};
  if (grounded) {
    study::ServiceRow brush = seal;
    brush.component = "grounding";
    brush.worn_out_after_h = Interval{900.0, 2400.0, 7000.0};
    brush.resistance_ohm = Interval{4.1, 9.3, 22.0};
    brush.resistance_middle_ohm = Interval{7.0, 19.4, 60.0};
    brush.resistance_end_ohm = Interval{11.0, 48.0, infinity};
    rows.push_back(brush);
  }
  return rows;
}

inline std::vector<study::AccountRow> sample_account() {
  return {{.point = "cruise",
           .duty = {},
           .total_W = {43.1, 75.5, 123.7},
           .parts = {{"seal", {13.1, 19.12, 25.7}, 25.0, -0.7, "computed"},
                     {"drive-end", {30.0, 56.4, 98.0}, {}, {}, {}}},
           .heat_into_sump_W = Interval{38.4, 67.25, 113.1},
           .idle_heat_into_sump_W = Interval{-3.1, 1.62, 4.9},
           .allocated_W = 25.0,
           .target_W = 140.0,
           .reserve_W = 115.0,
           .margin_W = 16.3,
           .probability = 0.991,
           .share_of_parts = 0.95,
           .met = true},
          {.point = {},
           .duty = "wltc-cold",
           .total_W = {31.0, 52.8, 87.3},
           .parts = {{"seal", {9.2, 14.7, 19.9}, 16.5, -3.4, {}}},
           .heat_into_sump_W = {},
           .idle_heat_into_sump_W = {},
           .allocated_W = 16.5,
           .target_W = {},
           .reserve_W = {},
           .margin_W = {},
           .probability = {},
           .share_of_parts = {},
           .met = {}}};
}

inline std::vector<study::SplitRow> sample_split() {
  return {
      {.point = "cruise",
       .duty = {},
       .by = "equal-margin",
       .total_W = 130.0,
       .parts = {{"seal", {13.1, 19.12, 25.7}, 27.01}, {"drive-end", {30.0, 56.4, 98.0}, 102.99}},
       .flags = {{"split-below-present", "Less than the components take."}}}};
}

inline std::vector<study::WorthRow> sample_worth() {
  study::WorthRow driven{.duty = "wltc-cold",
                         .shaft = "rotor",
                         .loss = "1 W",
                         .shaft_Wh_per_km = Interval{0.0188, 0.0189, 0.0190},
                         .battery_Wh_per_km = Interval{0.0171, 0.0182, 0.0193},
                         .battery_kWh_at_equal_range = Interval{0.0051, 0.0053, 0.0055},
                         .battery_kWh_over_service = Interval{4.9, 5.29, 5.6},
                         .plug_kWh_over_service = Interval{5.6, 6.01, 6.4},
                         .plug_cost_over_service = Interval{1.67, 1.81, 1.92},
                         .shaft_kWh_per_year = {},
                         .plug_kWh_per_year = {},
                         .plug_cost_per_year = {},
                         .currency = "credits"};
  study::WorthRow machine{.duty = "line-work",
                          .shaft = "rotor",
                          .loss = "1 N*m",
                          .shaft_Wh_per_km = {},
                          .battery_Wh_per_km = {},
                          .battery_kWh_at_equal_range = {},
                          .battery_kWh_over_service = {},
                          .plug_kWh_over_service = {},
                          .plug_cost_over_service = {},
                          .shaft_kWh_per_year = Interval{911.0, 929.9, 948.0},
                          .plug_kWh_per_year = Interval{1012.0, 1033.2, 1053.0},
                          .plug_cost_per_year = Interval{303.0, 310.1, 316.0},
                          .currency = "credits"};
  return {driven, machine};
}

inline std::vector<study::EnergyRow> sample_energy(bool grounded) {
  const auto row = [](const char* duty, const char* phase, const char* component, double battery) {
    return study::EnergyRow{.duty = duty,
                            .phase = phase,
                            .component = component,
                            .distance_km = 23.266,
                            .shaft_Wh_per_km = Interval{0.2, 0.31, 0.42},
                            .battery_Wh_per_km = Interval{0.8 * battery, battery, 1.3 * battery},
                            .range_change_km = {},
                            .mean_W = {9.0, 14.4, 19.5},
                            .kWh_per_year = {},
                            .plug_cost_per_year = {},
                            .currency = {},
                            .end_oil_temperature_degC = Interval{51.0, 54.2, 58.0},
                            .flags = {}};
  };
  std::vector<study::EnergyRow> rows{row("wltc-cold", "low", "seal", 0.6021),
                                     row("wltc-cold", "whole", "seal", 0.4213)};
  if (grounded) {
    rows.push_back(row("wltc-cold", "whole", "grounding", 0.0913));
    rows.push_back(row("wltc-cold", "whole", "net", 0.0874));
    rows.back().range_change_km = Interval{-0.31, -0.2217, -0.14};
    rows.back().flags = {lip_flag()};
    study::EnergyRow machine = row("line-work", "whole", "net", 0.1);
    machine.distance_km = {};
    machine.shaft_Wh_per_km = {};
    machine.battery_Wh_per_km = {};
    machine.kWh_per_year = Interval{11.9, 16.73, 21.4};
    machine.plug_cost_per_year = Interval{2.38, 3.346, 4.28};
    machine.currency = "EUR";
    rows.push_back(machine);
  }
  return rows;
}

inline std::vector<study::EnergyTotal> sample_totals() {
  return {{"wltc-cold",
           "low",
           Interval{0.21, 0.3291, 0.44},
           Interval{0.51, 0.6183, 0.81},
           {9.1, 14.73, 19.8}},
          {"wltc-cold", "whole", {}, {}, {9.0, 14.4, 19.5}}};
}

inline std::vector<study::TripRow> sample_trips() {
  study::TripRow parked{.duty = "wltc-cold",
                        .trip = "parked.csv",
                        .time_s = 60.0,
                        .distance_km = 0.0,
                        .covered_share = 1.0,
                        .shaft_Wh_per_km = {},
                        .battery_Wh_per_km = {},
                        .mean_W = Interval{0.0, 0.0, 0.0},
                        .end_oil_temperature_degC = Interval{22.0, 23.0, 24.0},
                        .report = "61 samples, median step 1 s.",
                        .error = {}};
  study::TripRow driven = parked;
  driven.trip = "tuesday.csv.gz";
  driven.distance_km = 11.731;
  driven.shaft_Wh_per_km = Interval{0.21, 0.3217, 0.43};
  driven.battery_Wh_per_km = Interval{0.24, 0.3719, 0.51};
  study::TripRow broken;
  broken.duty = "wltc-cold";
  broken.trip = "torn.csv";
  broken.error = "line 17, column \"v\": the cell is empty";
  return {driven, parked, broken};
}

inline std::vector<study::CreditVerdict> sample_credits() {
  return {{0.0, "possible", "expected", 0.874},
          {0.1, "possible", "possible", 0.523},
          {0.3, "none", "possible", 0.118},
          {1.0, "none", "none", 0.0}};
}

inline std::vector<study::VoltageRow> sample_voltage(bool grounded) {
  study::VoltageRow row{
      .point = "cruise",
      .shaft_speed_rpm = 5843.217,
      .oil_degC = 70.0,
      .modulation_index = 0.6253,
      .impedance_ohm = {},
      .impedance_end_of_service_ohm = {},
      .bearing_voltage_ratio = {0.061, 0.0873, 0.112},
      .edge_step_V = {16.2, 23.28, 29.9},
      .edge_peak_V = {5.31, 7.93, 14.2},
      .edge_peak_two_legs_V = {10.62, 15.86, 28.4},
      .edge_peak_three_legs_V = {15.93, 23.79, 42.6},
      .held_V = {0.011, 0.0353, 0.134},
      .threshold_V = {1.7, 6.13, 21.0},
      .film_um = {0.21, 0.312, 0.41},
      .film_ratio = {1.6, 3.12, 6.1},
      .discharge_probability_per_edge = {0.0, 0.0821, 1.0},
      .struck_path = "drive-end",
      .regime = "holding",
      .verdicts = sample_credits(),
      .bands = {{"audible", 20.0, 20e3, {31.0, 42.4, 55.0}},
                {"long and medium wave", 150e3, 30e6, {-17.0, -4.21, 6.0}}},
      .in_words =
          "Between the edges the ring holds the shaft near the housing; the first tens of "
          "nanoseconds after an edge pass it by.",
      .paths = sample_paths(),
      .paths_in_words = "Of all ways to the frame the drive end is nearest to its threshold.",
      .conducting_current_A = Interval{0.0171, 0.0333, 0.0647},
      .discharge = sample_discharge(),
      .spectrum = sample_spectrum(),
      .waveform = sample_waveform(),
      .flags = {
          {"uniform-common-mode", "Uniform common mode, two-level inverter; MHz figures ±6 dB."}}};
  if (grounded) {
    row.impedance_ohm = {{10e3, {7.1, 11.42, 18.9}, 0.4}, {1e6, {7.2, 11.53, 19.0}, 3.1}};
    row.impedance_end_of_service_ohm = {{10e3, {14.0, 31.7, 71.0}, 0.1},
                                        {1e6, {14.1, 31.9, 71.3}, 1.1}};
  }
  return {row};
}

inline std::vector<study::LifeRow> sample_life(bool grounded) {
  study::LifeRow row{
      .bearing = "drive-end",
      .mechanical_basic_h = 23417.0,
      .mechanical_basic_interval_h = {17250.0, 23417.0, 31900.0},
      .mechanical_modified_h = 81300.0,
      .mechanical_modified_interval_h = Interval{40200.0, 81300.0, 151000.0},
      .viscosity_ratio = Interval{1.21, 1.43, 1.72},
      .service_hours = 6120.0,
      .service_distance_km = 280000.0,
      .striking_time_share = {0.52, 0.874, 0.991},
      .expected_time_share = {0.31, 0.613, 0.902},
      .conducting_time_share = {0.021, 0.0472, 0.089},
      .discharge_rate_per_s = Interval{310.0, 4230.0, 41800.0},
      .discharge_energy_J_per_1000km = Interval{0.41, 7.12, 93.0},
      .discharge_energy_J_per_1000h = Interval{19.0, 333.0, 4360.0},
      .dose_J_per_mm2_per_1000h = Interval{11.0, 184.0, 2410.0},
      .dose_factor = Interval{1.0, 1.0, 1.0},
      .no_discharge = false,
      .credits = sample_credits(),
      .electrical = {{"dose", {820.0, 900.0, 980.0}, false, "Blind to peak current."}},
      .combined_from = "modified",
      .combined_linear_h = Interval{780.0, 866.0, 950.0},
      .combined_competing_h = Interval{801.0, 893.0, 974.0},
      .event_probability_in_service = Interval{0.61, 0.983, 1.0},
      .flags = {{"rating-life", "Rating life excludes electrical erosion."}}};
  if (grounded) {
    row.striking_time_share = {0.0, 0.118, 0.47};
    row.dose_factor = Interval{3.4, 41.7, infinity};
    row.electrical.front() = {"dose", {2100.0, infinity, infinity}, true, "Blind to peak current."};
    row.combined_linear_h = {};
  }
  return {row};
}

inline study::LifeSystem sample_life_system() {
  return {.bearings = 2,
          .slope = 1.5,
          .basic_h = {10870.0, 14752.0, 20100.0},
          .modified_h = Interval{25300.0, 51217.0, 95100.0},
          .reliability = 0.95,
          .cleanliness = "slight",
          .service_hours = 6120.0,
          .service_distance_km = 280000.0};
}

inline std::vector<study::HarmRow> sample_harm() {
  return {
      {"debris", Interval{2.1, 4.37, 8.9}, "mg/1000 h", "stays out of the oil.", Basis::unverified},
      {"circulating-current",
       {},
       "",
       "a new path for current along the shaft.",
       Basis::unverified}};
}

inline std::vector<study::RequirementRow> sample_requirements(bool grounded) {
  study::RequirementRow row{.id = "discharge-path",
                            .quantity = "impedance-magnitude",
                            .at = "10 kHz to 5 MHz, end of service",
                            .limit = 60.0,
                            .is_max = true,
                            .value = {14.1, 31.9, 71.3},
                            .unit = "ohm",
                            .met = false,
                            .probability = 0.953,
                            .margin = -11.3,
                            .not_applicable = {}};
  if (!grounded) {
    row.value = {not_a_number, not_a_number, not_a_number};
    row.probability = 0.0;
    row.margin = not_a_number;
    row.not_applicable = "the variant has no grounding element";
  } else {
    row.parts = study::ShareOfParts{.share_asked = 0.99,
                                    .confidence_asked = 0.9,
                                    .way = study::ShareOfParts::Way::nested,
                                    .share = {0.61, 0.985, 1.0},
                                    .share_at_confidence = 0.805,
                                    .confidence_of_share = 0.453,
                                    .states = 64,
                                    .parts = 200,
                                    .share_known_to = 0.0141,
                                    .confidence_known_to = 0.075,
                                    .remark = {}};
  }
  return {row};
}

inline study::Stability sample_stability() {
  return {2,
          4,
          2048,
          false,
          {{"dense-ring", "net power at cruise", "W", 0.004, 0.006, 0.05, true},
           {"dense-ring", "voltage held", "V", 0.3, 0.81, 0.5, false}}};
}

inline std::vector<study::FirstOrderRow> sample_first_order() {
  study::FirstOrderRow watts;
  watts.variant = "dense-ring";
  watts.figure = "net power at cruise";
  watts.unit = "W";
  watts.estimate = 5.2;
  watts.standard_uncertainty = 0.97;
  watts.first_order = {3.3, 5.2, 7.1};
  watts.ensemble = {3.4, 5.2, 7.2};
  watts.tolerance = 0.05;
  watts.low_difference = watts.high_difference = 0.1;
  watts.ends_known_to = 0.02;
  watts.verdict = study::FirstOrderRow::Verdict::not_valid;
  watts.because = "it bends over the uncertainty of contact.dense-ring.friction";
  study::FirstOrderRow volts = watts;
  volts.figure = "voltage held";
  volts.verdict = study::FirstOrderRow::Verdict::not_settled;
  volts.ends_known_to = std::numeric_limits<double>::infinity();
  volts.because = "too few samples to know the ensemble's own ends";
  study::FirstOrderRow ohms = watts;
  ohms.figure = "impedance at 1 MHz, end of service";
  ohms.verdict = study::FirstOrderRow::Verdict::valid;
  ohms.because.clear();
  return {watts, volts, ohms};
}

inline study::ExchangeRow sample_exchange(bool grounded) {
  study::ExchangeRow row;
  row.variant = grounded ? "dense-ring" : "plain";
  row.net_point = "cruise";
  row.requirements_asked = 1;
  row.edge_peak_V = {15.93, 23.79, 42.6};
  row.held_V = {16.1, 23.1, 29.8};
  row.striking_time_share = {0.52, 0.874, 0.991};
  row.striking_time_share_removed = {0.0, 0.0, 0.0};
  row.net_W_by_point = {{0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}};
  row.nondominated = true;
  row.probability_best = 0.174;
  if (!grounded) return row;
  row.point_net_W = {2.93, 4.02, 5.13};
  row.net_W_by_point = {{2.93, 4.02, 5.13}, {5.9, 8.13, 10.4}};
  row.battery_Wh_per_km = Interval{0.07, 0.0874, 0.114};
  row.kWh_per_year = Interval{11.9, 16.73, 21.4};
  row.impedance_end_of_service_ohm = Interval{14.1, 31.9, 71.3};
  row.impedance_frequency_Hz = 1e6;
  row.edge_peak_V = {5.31, 7.93, 14.2};
  row.held_V = {0.011, 0.0353, 0.134};
  row.striking_time_share = {0.0, 0.118, 0.47};
  row.striking_time_share_removed = {0.33, 0.756, 0.97};
  row.dose_factor = Interval{3.4, 41.7, infinity};
  row.life_h = Interval{780.0, 6193.0, 48900.0};
  row.life_gain_h = Interval{-120.0, 5300.0, 48000.0};
  row.life_gain_linear_h = Interval{-131.0, 4870.0, 41700.0};
  row.law = "dose";
  row.life_in_words = "life: benefit not demonstrable with these inputs";
  row.service_hours = 6120.0;
  row.service_distance_km = 280000.0;
  row.break_even = {Interval{20.0, 24.5, 32.0}, Interval{0.0041, 0.0062, 0.0093},
                    "The watts pay if at least that share of the bearings would have failed."};
  row.requirements_met = 0;
  row.probability_best = 0.826;
  row.verdict = "Discharges less often; the gain in life is not demonstrable with these inputs.";
  return row;
}

/// What the command fills, and nothing else.
inline study::Findings sample(const std::string& command) {
  study::Findings f;
  f.version = "0.1.0";
  f.command = command;
  f.title = "Sealing and grounding of the rotor shaft, parcel-van drive unit";
  f.question = "Is the dense ring worth its watts?";
  f.invented = true;
  f.baseline = "plain";
  f.file = "cases/van/case.toml";
  f.sha256 = std::string(64, 'a');
  f.includes = {{"library/elements.toml", std::string(64, 'b')}};
  f.changes = {"sump.ambient=5 degC"};
  f.seed = 18446744073709551615ULL;
  f.samples = 2048;
  f.points = {"cruise", "climb"};
  f.duties = {"wltc-cold", "line-work"};
  for (const bool grounded : {false, true}) {
    study::VariantFindings v;
    v.id = grounded ? "dense-ring" : "plain";
    v.title = grounded ? "Same lip with a dense conductive textile ring"
                       : "Reduced-force lip, no grounding";
    const bool all = command == "trade";
    if (all || command == "budget") v.budget = sample_budget(grounded);
    if (all || command == "budget") v.watts_over_speed = sample_speed_watts(grounded);
    if (all || command == "budget") v.account = sample_account();
    if (all || command == "budget") v.split = sample_split();
    if (all || command == "budget") v.service = sample_service(grounded);
    if (all || command == "energy") v.energy = sample_energy(grounded);
    if (all || command == "energy") v.energy_totals = sample_totals();
    if (all || command == "energy") v.trips = sample_trips();
    if (all || command == "energy") v.courses = {sample_course(grounded)};
    if (all || command == "ground") v.voltage = sample_voltage(grounded);
    if (all || command == "ground") v.strike_map = sample_strike_map();
    if (all || command == "life") v.life = sample_life(grounded);
    if (grounded && (all || command == "life")) v.harm = sample_harm();
    if (all || command == "life") v.life_system = sample_life_system();
    if (all || command == "life") v.years = sample_years(grounded);
    if (all) v.requirements = sample_requirements(grounded);
    f.variants.push_back(v);
  }
  if (command == "trade" || command == "energy") f.watt_worth = sample_worth();
  if (command == "trade" || command == "ground") f.density_statements = sample_density_statements();
  if (command == "trade") {
    study::Trade& trade = f.trade.emplace();
    trade.nondominated = {"plain", "dense-ring"};
    trade.chosen = "dense-ring";
    trade.probability_best = 0.826;
    trade.reason = "Lowest striking time share among the variants within their allocation.";
    trade.claim.rung = 4;
    trade.claim.sentence = "Discharges happen less often at the stated threshold.";
    trade.claim.missing = "a dose that the interval separates from the baseline's";
    trade.exchange = {sample_exchange(false), sample_exchange(true)};
    trade.credit_of_chosen = sample_credits();
    f.stability = sample_stability();
    f.first_order = sample_first_order();
    f.sensitivity = sample_sensitivity();
    f.window = sample_window();
  }
  f.assumptions = {{"discharge.breakdown_field",
                    "10 (3 … 30)",
                    "V/um",
                    Basis::assumed,
                    "engineering form",
                    "striking time share of dense-ring",
                    0.613,
                    false,
                    {3.0, 10.0, 30.0}},
                   {"variant.dense-ring.grounding.line_force",
                    "0.015 (0.012 … 0.018)",
                    "N/mm",
                    Basis::drawing,
                    "ring drawing A",
                    "net power of dense-ring",
                    0.204,
                    true,
                    {0.012, 0.015, 0.018}}};
  f.assumed_share = 0.713;
  f.headline = "striking time share of dense-ring";
  f.assumed_share_of_benefit = 0.942;
  f.headline_of_benefit = "discharge dose of dense-ring";
  f.cautions = {"High voltage: work on the inverter only when it is disconnected and discharged.",
                "Rotating shaft: keep clear; the contact may be hot."};
  return f;
}

}  // namespace ohmdrag::test

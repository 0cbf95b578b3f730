#pragma once

#include <string>
#include <vector>

#include "ohmdrag/study/voltage_findings.hpp"

/// Discharges, paths, spectrum and strike map built by hand: every figure is invented and none is
/// meant to be physical.
namespace ohmdrag::test {

inline std::vector<study::PathRow> sample_paths() {
  return {{.id = "drive-end",
           .kind = "bearing",
           .capacitance_pF = 118.6,
           .film_share = 1.0,
           .threshold_V = Interval{1.71, 6.13, 21.4},
           .stress = 2.587,
           .conducting = false,
           .struck = true},
          {.id = "pump",
           .kind = "driven-machine",
           .capacitance_pF = 47.3,
           .film_share = 0.312,
           .threshold_V = Interval{15.3, 48.1, 152.0},
           .stress = 0.3297,
           .conducting = false,
           .struck = false},
          {.id = "non-drive-end",
           .kind = "bearing",
           .capacitance_pF = {},
           .film_share = 1.0,
           .threshold_V = {},
           .stress = 0.0,
           .conducting = true,
           .struck = false}};
}

inline study::DischargeRow sample_discharge() {
  return {.path = "drive-end",
          .energy_J = {2.13e-9, 17.9e-9, 214e-9},
          .peak_current_A = {0.131, 0.437, 1.42},
          .apparent_density_A_mm2 = {0.0973, 0.337, 1.18},
          .rate_per_s = {0.0, 5830.0, 41300.0},
          .rate_per_km = Interval{0.0, 299000.0, 2120000.0},
          .power_W = {0.0, 1.04e-4, 8.7e-3},
          .dose_rate_J_mm2_h = {0.0, 0.2881, 24.3},
          .dwell_us = {0.0163, 0.0371, 0.0894},
          .one_leg_edges_per_s = 71842.0,
          .two_leg_edges_per_s = 79.06,
          .three_leg_edges_per_s = 0.0,
          .fallen_threshold_V = {1.23, 4.659, 16.1},
          .verdict_after_first = "expected"};
}

/// More bins than a page gives lines to.
inline std::vector<study::SpectrumBin> sample_spectrum() {
  std::vector<study::SpectrumBin> bins;
  double from = 12e3;
  for (int i = 0; i < 30; ++i) {
    const double to = 1.25 * from;
    bins.push_back({from, to, 31.7 / (1.0 + i), 0.437 + 0.0113 * i});
    from = to;
  }
  return bins;
}

inline std::vector<study::WaveformPoint> sample_waveform() {
  return {{0.0, -400.0, -19.3, 0.0}, {1.3e-6, -133.3, 3.97, 7.93}, {4.2e-5, 400.0, 19.3, 0.0353}};
}

inline std::vector<study::DensityStatement> sample_density_statements() {
  return {{0.0, 0.0011, "Shortened life all the same.", Basis::paper, "an invented abstract"},
          {0.13, 0.34, "May disturb a bearing.", Basis::unverified, "from memory"}};
}

inline study::StrikeMap sample_strike_map() {
  study::StrikeMap map;
  map.shaft_speed_rpm = {300.0, 900.0, 1500.0};
  map.oil_degC = {-17.5, 22.5};
  map.torque_Nm = {41.7, 33.2, 0.0};
  const auto cell = [](const char* regime, const char* verdict, const char* without,
                       const char* fixed, double share) {
    study::StrikeCell one;
    one.regime = regime;
    one.verdict = verdict;
    one.without_credit = without;
    one.by_fixed_threshold = fixed;
    one.film_ratio = 3.71;
    one.held_V = 38.2;
    one.edge_V = 23.9;
    if (one.regime != "conducting") one.threshold_V = Interval{1.71, 6.13, 21.4};
    one.time_share = share;
    return one;
  };
  map.cells = {{cell("striking", "expected", "expected", "possible", 0.0042),
                cell("holding", "none", "possible", "none", 0.1871),
                cell("holding", "none", "expected", "possible", 0.0)},
               {cell("conducting", "possible", "possible", "possible", 0.2137),
                cell("striking", "possible", "possible", "possible", 0.4029),
                cell("holding", "none", "none", "none", 0.1231)}};
  map.duties = {{"wltc-cold", {{0.0042, 0.1871, 0.0}, {0.2137, 0.4029, 0.1231}}}};
  map.conducting_below_rpm = {0.0, 617.4};
  map.fixed_threshold_V = {2.71, 10.13, 37.9};
  map.standstill_time_share = 0.069;
  map.conducting_time_share = 0.2213;
  map.holding_time_share = 0.3162;
  map.striking_time_share = 0.3935;
  return map;
}

}  // namespace ohmdrag::test

#include "report/json_rows.hpp"

namespace ohmdrag::report {
namespace {

/// One figure of every cell, row by row.
template <class Figure>
Json grid(const study::StrikeMap& map, const Figure& figure) {
  Json rows = Json::array();
  for (const auto& cells : map.cells) {
    Json row = Json::array();
    for (const study::StrikeCell& cell : cells) row.push_back(figure(cell));
    rows.push_back(std::move(row));
  }
  return rows;
}

Json threshold(const study::StrikeMap& map, double Interval::*point) {
  return grid(map, [&](const study::StrikeCell& cell) {
    return cell.threshold_V ? number((*cell.threshold_V).*point) : Json();
  });
}

}  // namespace

Json to(const study::PathRow& row) {
  return {{"id", row.id},
          {"kind", row.kind},
          {"capacitance_pF", to(row.capacitance_pF)},
          {"film_share", number(row.film_share)},
          {"threshold_V", to(row.threshold_V)},
          {"stress", number(row.stress)},
          {"conducting", row.conducting},
          {"struck", row.struck}};
}

Json to(const study::DischargeRow& row) {
  return {{"path", row.path},
          {"energy_J", to(row.energy_J)},
          {"peak_current_A", to(row.peak_current_A)},
          {"apparent_density_A_per_mm2", to(row.apparent_density_A_mm2)},
          {"rate_per_s", to(row.rate_per_s)},
          {"rate_per_km", to(row.rate_per_km)},
          {"power_W", to(row.power_W)},
          {"dose_rate_J_per_mm2_per_h", to(row.dose_rate_J_mm2_h)},
          {"dwell_us", to(row.dwell_us)},
          {"one_leg_edges_per_s", number(row.one_leg_edges_per_s)},
          {"two_leg_edges_per_s", number(row.two_leg_edges_per_s)},
          {"three_leg_edges_per_s", number(row.three_leg_edges_per_s)},
          {"fallen_threshold_V", to(row.fallen_threshold_V)},
          {"verdict_after_first", word_or_null(row.verdict_after_first)}};
}

Json to(const study::SpectrumBin& bin) {
  return {{"from_Hz", number(bin.from_Hz)},
          {"to_Hz", number(bin.to_Hz)},
          {"without_V", number(bin.without_V)},
          {"with_V", number(bin.with_V)}};
}

Json to(const study::WaveformPoint& point) {
  return {{"time_s", number(point.time_s)},
          {"common_mode_V", number(point.common_mode_V)},
          {"without_V", number(point.without_V)},
          {"with_V", number(point.with_V)}};
}

Json to(const study::DensityStatement& row) {
  return {{"from_A_per_mm2", number(row.from_A_mm2)},
          {"up_to_A_per_mm2", number(row.up_to_A_mm2)},
          {"statement", row.statement},
          {"basis", to_word(row.basis)},
          {"source", row.source}};
}

Json to(const study::DutyTime& row) {
  Json rows = Json::array();
  for (const auto& shares : row.time_share) rows.push_back(list(shares));
  return {{"duty", row.duty}, {"time_share", std::move(rows)}};
}

Json to(const study::StrikeMap& map) {
  const auto words = [&](const std::string study::StrikeCell::*word) {
    return grid(map, [&](const study::StrikeCell& cell) { return word_or_null(cell.*word); });
  };
  const auto numbers = [&](const double study::StrikeCell::*figure) {
    return grid(map, [&](const study::StrikeCell& cell) { return number(cell.*figure); });
  };
  return {{"shaft_speeds_rpm", list(map.shaft_speed_rpm)},
          {"oil_temperatures_degC", list(map.oil_degC)},
          {"torques_Nm", list(map.torque_Nm)},
          {"credit_us", study::headline_credit_us},
          {"fixed_threshold_V", to(map.fixed_threshold_V)},
          {"regime", words(&study::StrikeCell::regime)},
          {"verdict", words(&study::StrikeCell::verdict)},
          {"verdict_without_credit", words(&study::StrikeCell::without_credit)},
          {"verdict_by_fixed_threshold", words(&study::StrikeCell::by_fixed_threshold)},
          {"film_ratio", numbers(&study::StrikeCell::film_ratio)},
          {"held_V", numbers(&study::StrikeCell::held_V)},
          {"edge_V", numbers(&study::StrikeCell::edge_V)},
          {"threshold_05_V", threshold(map, &Interval::low)},
          {"threshold_50_V", threshold(map, &Interval::mid)},
          {"threshold_95_V", threshold(map, &Interval::high)},
          {"time_share", numbers(&study::StrikeCell::time_share)},
          {"duties", list(map.duties)},
          {"conducting_below_rpm", list(map.conducting_below_rpm)},
          {"standstill_time_share", number(map.standstill_time_share)},
          {"conducting_time_share", number(map.conducting_time_share)},
          {"holding_time_share", number(map.holding_time_share)},
          {"striking_time_share", number(map.striking_time_share)}};
}

Json to(const study::VoltageRow& row) {
  return {{"point", row.point},
          {"shaft_speed_rpm", number(row.shaft_speed_rpm)},
          {"oil_degC", number(row.oil_degC)},
          {"modulation_index", number(row.modulation_index)},
          {"impedance_ohm", list(row.impedance_ohm)},
          {"impedance_end_of_service_ohm", list(row.impedance_end_of_service_ohm)},
          {"bearing_voltage_ratio", to(row.bearing_voltage_ratio)},
          {"edge_step_V", to(row.edge_step_V)},
          {"edge_peak_V", to(row.edge_peak_V)},
          {"edge_peak_two_legs_V", to(row.edge_peak_two_legs_V)},
          {"edge_peak_three_legs_V", to(row.edge_peak_three_legs_V)},
          {"held_V", to(row.held_V)},
          {"threshold_V", to(row.threshold_V)},
          {"film_um", to(row.film_um)},
          {"film_ratio", to(row.film_ratio)},
          {"discharge_probability_per_edge", to(row.discharge_probability_per_edge)},
          {"struck_path", word_or_null(row.struck_path)},
          {"regime", row.regime},
          {"verdicts", list(row.verdicts)},
          {"bands", list(row.bands)},
          {"in_words", row.in_words},
          {"paths", list(row.paths)},
          {"paths_in_words", word_or_null(row.paths_in_words)},
          {"conducting_current_A", to(row.conducting_current_A)},
          {"discharge", to(row.discharge)},
          {"spectrum", list(row.spectrum)},
          {"waveform", list(row.waveform)},
          {"flags", list(row.flags)}};
}

}  // namespace ohmdrag::report

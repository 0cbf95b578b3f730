#include "report/json_rows.hpp"

namespace ohmdrag::report {

Json to(const Interval& value) {
  return {{"low", number(value.low)}, {"mid", number(value.mid)}, {"high", number(value.high)}};
}

Json to(const study::Flag& flag) { return {{"code", flag.code}, {"text", flag.text}}; }

Json to(const study::ImpedancePoint& point) {
  return {{"frequency_Hz", number(point.frequency_Hz)},
          {"magnitude", to(point.magnitude)},
          {"phase_deg", number(point.phase_deg)}};
}

Json to(const study::BandReduction& band) {
  return {{"name", band.name},
          {"from_Hz", number(band.from_Hz)},
          {"to_Hz", number(band.to_Hz)},
          {"reduction_dB", to(band.reduction_dB)}};
}

Json to(const study::CreditVerdict& verdict) {
  return {{"t0_us", number(verdict.t0_us)},
          {"held", word_or_null(verdict.held)},
          {"edge", word_or_null(verdict.edge)},
          {"striking_time_share", number(verdict.striking_time_share)}};
}

Json to(const study::ElectricalLife& life) {
  return {{"law", life.law},
          {"hours", to(life.hours)},
          {"no_limit", life.no_limit},
          {"remark", life.remark}};
}

Json to(const study::BudgetRow& row) {
  return {{"point", row.point},
          {"component", row.component},
          {"kind", row.kind},
          {"title", row.title},
          {"shaft", row.shaft},
          {"shaft_speed_rpm", number(row.shaft_speed_rpm)},
          {"surface_speed_mps", number(row.surface_speed_mps)},
          {"torque_Nm", to(row.torque_Nm)},
          {"own_W", to(row.own_W)},
          {"net_W", to(row.net_W)},
          {"own_end_of_service_W", to(row.own_end_of_service_W)},
          {"contact_temperature_degC", to(row.contact_temperature_degC)},
          {"heat_into_sump_W", to(row.heat_into_sump_W)},
          {"allocation_W", to(row.allocation_W)},
          {"margin_W", to(row.margin_W)},
          {"maturity", word_or_null(row.maturity)},
          {"basis", to_word(row.basis)},
          {"flags", list(row.flags)}};
}

Json to(const study::AccountPart& part) {
  return {{"component", part.component},
          {"own_W", to(part.own_W)},
          {"allocation_W", to(part.allocation_W)},
          {"margin_W", to(part.margin_W)},
          {"maturity", word_or_null(part.maturity)}};
}

Json to(const study::AccountRow& row) {
  return {{"point", word_or_null(row.point)},
          {"duty", word_or_null(row.duty)},
          {"component", "total"},
          {"total_W", to(row.total_W)},
          {"parts", list(row.parts)},
          {"heat_into_sump_W", to(row.heat_into_sump_W)},
          {"idle_heat_into_sump_W", to(row.idle_heat_into_sump_W)},
          {"allocated_W", number(row.allocated_W)},
          {"target_W", to(row.target_W)},
          {"reserve_W", to(row.reserve_W)},
          {"margin_W", to(row.margin_W)},
          {"probability", to(row.probability)},
          {"share_of_parts", to(row.share_of_parts)},
          {"met", to(row.met)}};
}

Json to(const study::SplitPart& part) {
  return {{"component", part.component}, {"own_W", to(part.own_W)}, {"max_W", number(part.max_W)}};
}

Json to(const study::SplitRow& row) {
  return {{"point", word_or_null(row.point)},
          {"duty", word_or_null(row.duty)},
          {"by", row.by},
          {"total_W", number(row.total_W)},
          {"parts", list(row.parts)},
          {"flags", list(row.flags)}};
}

Json to(const study::WorthRow& row) {
  return {{"duty", row.duty},
          {"shaft", row.shaft},
          {"loss", row.loss},
          {"shaft_Wh_per_km", to(row.shaft_Wh_per_km)},
          {"battery_Wh_per_km", to(row.battery_Wh_per_km)},
          {"battery_kWh_at_equal_range", to(row.battery_kWh_at_equal_range)},
          {"battery_kWh_over_service", to(row.battery_kWh_over_service)},
          {"plug_kWh_over_service", to(row.plug_kWh_over_service)},
          {"plug_cost_over_service", to(row.plug_cost_over_service)},
          {"shaft_kWh_per_year", to(row.shaft_kWh_per_year)},
          {"plug_kWh_per_year", to(row.plug_kWh_per_year)},
          {"plug_cost_per_year", to(row.plug_cost_per_year)},
          {"currency", word_or_null(row.currency)}};
}

Json to(const study::ServiceRow& row) {
  return {{"component", row.component},
          {"title", row.title},
          {"hours", to(row.hours)},
          {"way_km", to(row.way_km)},
          {"ageing_temperature_degC", to(row.ageing_temperature_degC)},
          {"line_force_N_per_mm", to(row.line_force_N_per_mm)},
          {"line_force_middle_N_per_mm", to(row.line_force_middle_N_per_mm)},
          {"line_force_end_N_per_mm", to(row.line_force_end_N_per_mm)},
          {"contact_width_mm", to(row.contact_width_mm)},
          {"contact_width_end_mm", to(row.contact_width_end_mm)},
          {"wear_um", to(row.wear_um)},
          {"shaft_groove_um", to(row.shaft_groove_um)},
          {"debris_mg_per_1000h", to(row.debris_mg_per_1000h)},
          {"worn_out_after_h", to(row.worn_out_after_h)},
          {"resistance_ohm", to(row.resistance_ohm)},
          {"resistance_middle_ohm", to(row.resistance_middle_ohm)},
          {"resistance_end_ohm", to(row.resistance_end_ohm)},
          {"basis", to_word(row.basis)},
          {"flags", list(row.flags)}};
}

Json to(const study::HarmRow& row) {
  return {{"what", row.what},
          {"figure", to(row.figure)},
          {"unit", word_or_null(row.unit)},
          {"text", row.text},
          {"basis", to_word(row.basis)}};
}

Json to(const study::EnergyRow& row) {
  return {{"duty", row.duty},
          {"phase", row.phase},
          {"component", row.component},
          {"distance_km", to(row.distance_km)},
          {"shaft_Wh_per_km", to(row.shaft_Wh_per_km)},
          {"battery_Wh_per_km", to(row.battery_Wh_per_km)},
          {"range_change_km", to(row.range_change_km)},
          {"mean_W", to(row.mean_W)},
          {"kWh_per_year", to(row.kWh_per_year)},
          {"plug_cost_per_year", to(row.plug_cost_per_year)},
          {"currency", word_or_null(row.currency)},
          {"end_oil_temperature_degC", to(row.end_oil_temperature_degC)},
          {"flags", list(row.flags)}};
}

Json to(const study::EnergyTotal& total) {
  return {{"duty", total.duty},
          {"phase", total.phase},
          {"shaft_Wh_per_km", to(total.shaft_Wh_per_km)},
          {"battery_Wh_per_km", to(total.battery_Wh_per_km)},
          {"mean_W", to(total.mean_W)}};
}

Json to(const study::TripRow& row) {
  const bool used = row.error.empty();
  return {{"duty", row.duty},
          {"trip", row.trip},
          {"time_s", used ? number(row.time_s) : Json()},
          {"distance_km", used ? number(row.distance_km) : Json()},
          {"covered_share", used ? number(row.covered_share) : Json()},
          {"shaft_Wh_per_km", to(row.shaft_Wh_per_km)},
          {"battery_Wh_per_km", to(row.battery_Wh_per_km)},
          {"mean_W", to(row.mean_W)},
          {"end_oil_temperature_degC", to(row.end_oil_temperature_degC)},
          {"report", word_or_null(row.report)},
          {"error", word_or_null(row.error)}};
}

Json to(const study::LifeRow& row) {
  return {{"bearing", row.bearing},
          {"kind", row.kind},
          {"mechanical_basic_h", number(row.mechanical_basic_h)},
          {"mechanical_basic_interval_h", to(row.mechanical_basic_interval_h)},
          {"mechanical_modified_h", to(row.mechanical_modified_h)},
          {"mechanical_modified_interval_h", to(row.mechanical_modified_interval_h)},
          {"viscosity_ratio", to(row.viscosity_ratio)},
          {"service_hours", to(row.service_hours)},
          {"service_distance_km", to(row.service_distance_km)},
          {"striking_time_share", to(row.striking_time_share)},
          {"expected_time_share", to(row.expected_time_share)},
          {"conducting_time_share", to(row.conducting_time_share)},
          {"discharge_rate_per_s", to(row.discharge_rate_per_s)},
          {"discharge_energy_J_per_1000km", to(row.discharge_energy_J_per_1000km)},
          {"discharge_energy_J_per_1000h", to(row.discharge_energy_J_per_1000h)},
          {"dose_J_per_mm2_per_1000h", to(row.dose_J_per_mm2_per_1000h)},
          {"dose_factor", to(row.dose_factor)},
          {"no_discharge", row.no_discharge},
          {"credits", list(row.credits)},
          {"electrical", row.electrical.empty() ? Json() : to(row.electrical.front())},
          {"electrical_by_law", list(row.electrical)},
          {"combined_from", word_or_null(row.combined_from)},
          {"combined_h", to(row.combined_competing_h)},
          {"combined_linear_h", to(row.combined_linear_h)},
          {"event_probability_in_service", to(row.event_probability_in_service)},
          {"flags", list(row.flags)}};
}

Json to(const study::LifeSystem& system) {
  return {{"bearings", system.bearings},
          {"weibull_slope", number(system.slope)},
          {"basic_h", to(system.basic_h)},
          {"modified_h", to(system.modified_h)},
          {"reliability", number(system.reliability)},
          {"cleanliness", word_or_null(system.cleanliness)},
          {"service_hours", to(system.service_hours)},
          {"service_distance_km", to(system.service_distance_km)}};
}

Json to(const study::RequirementRow& row) {
  const bool asked = !row.not_applicable;
  Json out = {{"id", row.id},
              {"quantity", row.quantity},
              {"at", row.at},
              {"bound", row.is_max ? "max" : "min"},
              {"limit", number(row.limit)},
              {"value", asked ? to(row.value) : Json()},
              {"unit", row.unit},
              {"met", row.met},
              {"probability", asked ? number(row.probability) : Json()},
              {"margin", asked ? number(row.margin) : Json()},
              {"not_applicable", row.not_applicable ? Json(*row.not_applicable) : Json()}};
  if (row.parts) out["parts"] = to(*row.parts);
  return out;
}

Json to(const study::ExchangeRow& row) {
  return {{"variant", row.variant},
          {"net_point", row.net_point},
          {"point_net_W", to(row.point_net_W)},
          {"net_W_by_point", list(row.net_W_by_point)},
          {"battery_Wh_per_km", to(row.battery_Wh_per_km)},
          {"kWh_per_year", to(row.kWh_per_year)},
          {"impedance_end_of_service_ohm", to(row.impedance_end_of_service_ohm)},
          {"impedance_frequency_Hz", to(row.impedance_frequency_Hz)},
          {"edge_peak_V", to(row.edge_peak_V)},
          {"held_V", to(row.held_V)},
          {"striking_time_share", to(row.striking_time_share)},
          {"striking_time_share_removed", to(row.striking_time_share_removed)},
          {"dose_factor", to(row.dose_factor)},
          {"no_discharge", row.no_discharge},
          {"life_h", to(row.life_h)},
          {"life_gain_h", to(row.life_gain_h)},
          {"life_gain_linear_h", to(row.life_gain_linear_h)},
          {"law", word_or_null(row.law)},
          {"life_in_words", word_or_null(row.life_in_words)},
          {"service_hours", to(row.service_hours)},
          {"service_distance_km", to(row.service_distance_km)},
          {"break_even",
           {{"kWh_per_avoided_event", to(row.break_even.kWh_per_avoided_event)},
            {"failure_probability", to(row.break_even.failure_probability)},
            {"sentence", row.break_even.sentence}}},
          {"requirements_met", row.requirements_met},
          {"requirements_asked", row.requirements_asked},
          {"nondominated", row.nondominated},
          {"probability_best", number(row.probability_best)},
          {"verdict", row.verdict}};
}

Json to(const study::Trade& trade) {
  return {{"nondominated", trade.nondominated},
          {"chosen", word_or_null(trade.chosen)},
          {"probability_best", number(trade.probability_best)},
          {"reason", trade.reason},
          {"claim",
           {{"rung", trade.claim.rung},
            {"sentence", trade.claim.sentence},
            {"missing", trade.claim.missing}}},
          {"exchange", list(trade.exchange)},
          {"credit_of_chosen", list(trade.credit_of_chosen)}};
}

Json to(const study::Assumption& row) {
  return {{"name", row.name},
          {"value", row.value},
          {"interval", to(row.interval)},
          {"unit", row.unit},
          {"share", to_word(row.share)},
          {"basis", to_word(row.basis)},
          {"source", row.source},
          {"unknown", row.unknown},
          {"moves", {{"figure", row.moves_figure}, {"share", number(row.moves_share)}}}};
}

}  // namespace ohmdrag::report

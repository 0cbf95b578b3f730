#include <fmt/format.h>

#include <algorithm>

#include "ohmdrag/contact/force_exponent.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/voltage/in_words.hpp"
#include "study/voltage_rows.hpp"

namespace ohmdrag::study {
namespace {

/// Of the contact as it runs at a point.
std::vector<ImpedancePoint> impedance_rows(const Ensemble& ensemble, std::size_t v, std::size_t p,
                                           const Nominal& nominal, AngularVelocity speed, Age age) {
  std::vector<ImpedancePoint> rows;
  if (!nominal.variant.grounded) return rows;
  const auto a = static_cast<std::size_t>(age);
  const voltage::MaybePath path = nominal.variant.path_at(age, speed);
  for (std::size_t f = 0; f < ensemble.frequencies.size(); ++f)
    rows.push_back(
        {ensemble.frequencies[f].value(),
         reduce(ensemble.samples[v],
                [&](const VariantSample& s) { return s.points[p].impedance_ohm[a][f]; }),
         path ? voltage::impedance_phase_deg(*path, ensemble.frequencies[f]) : not_a_figure});
  return rows;
}

/// What is known of a source that was recorded instead of modelled.
Flag recorded_source(const voltage::MeasuredWaveform& record, std::size_t edges) {
  return {"source-recorded",
          fmt::format("Common mode as recorded, {} edges a period; the record says nothing above "
                      "{}. The modulation of the case has no part in it.",
                      edges, print_quantity(record.silent_above.value(), Dimension::frequency, 3))};
}

std::vector<Flag> voltage_flags(const Case& world, const ElectricState& now) {
  std::vector<Flag> flags{
      {"uniform-common-mode", world.inverter->waveform
                                  ? "Uniform common mode; MHz figures ±6 dB."
                                  : "Uniform common mode, two-level inverter; MHz figures ±6 dB."},
      {"end-of-service",
       "Voltages and discharges are those with the element at the end of its service; held "
       "voltage as after a discharge, which moves the shaft's zero."},
      {"threshold-assumed",
       "Breakdown field 3–30 V/µm assumed; measured first breakdowns of new bearings were "
       "1.5–6 V."}};
  if (now.conducting && now.turning)
    flags.push_back({"bearing-conducts",
                     "a bearing without a film is a way for current, in parallel with the element; "
                     "damage by current through metallic contact is not modelled"});
  if (world.inverter->modulation_assumed)
    flags.push_back({"modulation-assumed",
                     "the modulation index over speed is assumed; give inverter.modulation_index"});
  return flags;
}

/// The verdicts side by side over the credit for short pulses, and the regime.
void add_verdicts(const ElectricModel& electric, const ElectricState& now, VoltageRow& row) {
  row.regime = "holding";
  for (const auto& credit : voltage::verdicts_by_credit(electric.verdict_input(now, Time{}))) {
    const auto& result = credit.result;
    row.verdicts.push_back({credit.t0.value() * 1e6, std::string(to_word(result.held)),
                            std::string(to_word(result.edge)), 0.0});
    if (row.verdicts.size() == headline_credit + 1)
      row.regime = std::string(to_word(result.regime));
  }
  if (now.conducting) row.regime = "conducting";
}

std::string effect_of(const ElectricModel& electric, const ElectricState& now,
                      const VariantModel& variant) {
  if (now.conducting)
    return "Metal touches in a way to the frame and holds the shaft near the housing; what that "
           "current does is not modelled.";
  const SourceModel& source = electric.source();
  const bool open = variant.grounded && !electric.path(now.speed);
  return (open ? "The grounding contact no longer presses at the end of its service. "
               : std::string{}) +
         voltage::effect_in_words(now.node, electric.path(now.speed),
                                  source.carrier(now.modulation), source.oscillation());
}

}  // namespace

bool has_electrics(const Case& world) { return world.inverter && world.coupling; }

bool strikes_can_be_counted(const Case& world) {
  return has_electrics(world) && !world.bearings.empty() && !world.duties.empty();
}

void fill_voltage(const Ensemble& ensemble, std::size_t v, const Nominal& nominal,
                  VariantFindings& findings) {
  const Case& world = *nominal.world;
  if (!has_electrics(world)) return;
  const ElectricModel electric(nominal.model, nominal.variant, nominal.draw);
  for (std::size_t p = 0; p < world.points.size(); ++p) {
    const OperatingPoint& point = world.points[p];
    const AngularVelocity speed = nominal.model.speeds(point, nominal.draw)[electric.shaft()];
    const Torque torque = nominal.model.torques(point, nominal.draw)[electric.shaft()];
    const ElectricState now = electric.state(speed, nominal.draw(point.oil_temperature), torque);
    const PointFigures figures{ensemble.samples[v], p};

    VoltageRow row = figures.row();
    row.point = point.id;
    row.shaft_speed_rpm = in_rpm(speed);
    row.oil_degC = in_celsius(nominal.draw(point.oil_temperature));
    row.modulation_index = now.modulation;
    row.impedance_ohm = impedance_rows(ensemble, v, p, nominal, speed, Age::begin);
    row.impedance_end_of_service_ohm = impedance_rows(ensemble, v, p, nominal, speed, Age::end);
    if (now.struck) row.struck_path = now.paths[*now.struck].id;
    add_verdicts(electric, now, row);
    for (std::size_t b = 0; b < world.bands.size(); ++b) {
      const NamedBand& band = world.bands[b];
      row.bands.push_back({band.name, band.from.value(), band.to.value(), figures.reduction_dB(b)});
    }
    row.in_words = effect_of(electric, now, nominal.variant);
    row.paths = path_rows(electric, now);
    row.paths_in_words = paths_in_words(electric, now);
    if (now.struck) row.discharge = discharge_row(electric, now, figures, point, nominal);
    if (now.conducting) row.conducting_current_A = figures.of(&ElectricSample::conducting_A);
    row.flags = voltage_flags(world, now);
    if (world.inverter->waveform) {
      // Its edges are what they are: no legs to count.
      row.edge_peak_two_legs_V = row.edge_peak_three_legs_V = row.edge_peak_V;
      row.flags.push_back(
          recorded_source(*world.inverter->waveform, electric.source().measured_edges().size()));
    }
    if (nominal.variant.force_exponent)
      row.flags.push_back(
          {"force-and-impedance", contact::force_effect_in_words(*nominal.variant.force_exponent)});
    add_detail(electric, now, row);
    findings.voltage.push_back(std::move(row));
  }
}

}  // namespace ohmdrag::study

#include <algorithm>

#include "ohmdrag/voltage/in_words.hpp"
#include "study/electric.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

std::vector<ImpedancePoint> impedance_rows(const Ensemble& ensemble, std::size_t v,
                                           const Nominal& nominal, Age age) {
  std::vector<ImpedancePoint> rows;
  const auto a = static_cast<std::size_t>(age);
  const auto& path = nominal.variant.path[a];
  if (!nominal.variant.grounded) return rows;
  for (std::size_t f = 0; f < ensemble.frequencies.size(); ++f)
    rows.push_back(
        {ensemble.frequencies[f].value(),
         reduce(ensemble.samples[v], [&](const VariantSample& s) { return s.impedance_ohm[a][f]; }),
         path ? voltage::impedance_phase_deg(*path, ensemble.frequencies[f]) : not_a_figure});
  return rows;
}

/// Reduction of a band in every draw would need the nodes of all draws; the nominal node with the
/// two ends of the resistance spans it, and the words say that MHz figures are good for ±6 dB.
BandReduction band_row(const voltage::Band& band, const ElectricState& now,
                       const std::vector<ImpedancePoint>& impedance,
                       const voltage::MaybePath& path) {
  BandReduction row{band.name, band.from.value(), band.to.value(), {}};
  if (!path) return row;
  const double spread_low = impedance.front().magnitude.low / impedance.front().magnitude.mid;
  const double spread_high = impedance.front().magnitude.high / impedance.front().magnitude.mid;
  const auto at = [&](double factor) {
    const voltage::MaybePath scaled =
        voltage::GroundingPath{factor * path->resistance, path->inductance};
    return voltage::band_reduction(now.node, scaled, band).reduction_dB;
  };
  const double a = at(spread_high), mid = at(1.0), b = at(spread_low);
  row.reduction_dB = {std::min({a, mid, b}), mid, std::max({a, mid, b})};
  return row;
}

std::vector<Flag> voltage_flags(const Case& world, const ElectricState& now) {
  std::vector<Flag> flags{
      {"uniform-common-mode", "Uniform common mode, two-level inverter; MHz figures ±6 dB."},
      {"end-of-service",
       "Voltages and discharges are those with the element at the end of its service; held "
       "voltage as after a discharge, which moves the shaft's zero."},
      {"threshold-assumed",
       "Breakdown field 3–30 V/µm assumed; measured first breakdowns of new bearings were "
       "1.5–6 V."}};
  if (now.conducting && now.turning)
    flags.push_back({"bearing-conducts",
                     "bearing conducts; damage by current through metallic contact is not "
                     "modelled"});
  if (world.inverter->modulation_assumed)
    flags.push_back({"modulation-assumed",
                     "the modulation index over speed is assumed; give inverter.modulation_index"});
  return flags;
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
  const auto& samples = ensemble.samples[v];
  const auto begin = impedance_rows(ensemble, v, nominal, Age::begin);
  const auto end = impedance_rows(ensemble, v, nominal, Age::end);

  for (std::size_t p = 0; p < world.points.size(); ++p) {
    const OperatingPoint& point = world.points[p];
    const std::size_t shaft = electric.shaft();
    const AngularVelocity speed = nominal.model.speeds(point, nominal.draw)[shaft];
    const Temperature oil = nominal.draw(point.oil_temperature);
    const ElectricState now =
        electric.state(speed, oil, nominal.model.torques(point, nominal.draw)[shaft]);
    const auto figure = [&](double ElectricSample::*member) {
      return reduce(samples, [&](const VariantSample& s) { return s.points[p].electric.*member; });
    };

    VoltageRow row;
    row.point = point.id;
    row.shaft_speed_rpm = in_rpm(speed);
    row.oil_degC = in_celsius(oil);
    row.modulation_index = now.modulation;
    row.impedance_ohm = begin;
    row.impedance_end_of_service_ohm = end;
    row.bearing_voltage_ratio = figure(&ElectricSample::ratio);
    row.edge_step_V = figure(&ElectricSample::edge_step_V);
    row.edge_peak_V = figure(&ElectricSample::peak_V);
    row.edge_peak_two_legs_V = figure(&ElectricSample::peak_two_V);
    row.edge_peak_three_legs_V = figure(&ElectricSample::peak_three_V);
    row.held_V = figure(&ElectricSample::held_V);
    row.threshold_V = figure(&ElectricSample::threshold_V);
    row.film_um = figure(&ElectricSample::film_um);
    row.film_ratio = figure(&ElectricSample::film_ratio);
    row.discharge_probability_per_edge = figure(&ElectricSample::probability_per_edge);
    if (now.struck) row.struck_path = world.bearings[electric.bearings()[*now.struck]].id;
    row.regime = "holding";
    for (const auto& credit : voltage::verdicts_by_credit(electric.verdict_input(now, Time{}))) {
      const auto& result = credit.result;
      row.verdicts.push_back({credit.t0.value() * 1e6, std::string(to_word(result.held)),
                              std::string(to_word(result.edge)), 0.0});
      if (row.verdicts.size() == headline_credit + 1)
        row.regime = std::string(to_word(result.regime));
    }
    if (now.conducting) row.regime = "conducting";
    for (const NamedBand& band : world.bands)
      row.bands.push_back(band_row({band.name, band.from, band.to}, now, begin, electric.path()));
    const Frequency oscillation = world.inverter->ringing
                                      ? world.inverter->ringing->frequency.nominal()
                                      : Frequency::from_value(2e6);
    row.in_words = now.conducting
                       ? "A bearing conducts here and holds the shaft near the housing; what that "
                         "current does to it is not modelled."
                       : voltage::effect_in_words(now.node, electric.path(),
                                                  electric.carrier(now.modulation), oscillation);
    row.flags = voltage_flags(world, now);
    findings.voltage.push_back(std::move(row));
  }
}

}  // namespace ohmdrag::study

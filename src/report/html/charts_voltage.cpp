// Where it strikes, and what stands on the shaft with and without the path to the frame.

#include "ohmdrag/quantity/print.hpp"
#include "report/html/charts.hpp"

namespace ohmdrag::report {
namespace {

using study::VoltageRow;

constexpr double us_per_s = 1e6;

/// Half of the step between neighbours on an axis of cell middles.
double half_step(const std::vector<double>& middles) {
  return middles.size() > 1 ? 0.5 * (middles[1] - middles[0]) : 0.5;
}

std::string in_words(const study::StrikeCell& cell) {
  if (cell.regime == "conducting") return "conducts";
  return cell.verdict == "none" ? "nothing strikes" : "discharge " + cell.verdict;
}

Chart strike_chart(const study::VariantFindings& variant, const std::string& name,
                   const std::string& id) {
  Chart chart{.id = "strike-map-" + id,
              .drawing = "strike_map",
              .title = "Where it strikes, " + name,
              .statement =
                  "Everything at its middle, the element at the end of its service. The "
                  "dots grow with the share of the duties' time in a cell.",
              .data = {.fields = {{"speed", "shaft speed", "rpm"},
                                  {"oil", "oil", "°C"},
                                  {"verdict", "what happens"},
                                  {"without_credit", "without credit for short pulses"},
                                  {"film_ratio", "film ratio", "1"},
                                  {"held", "voltage held", "V"},
                                  {"edge", "edge", "V"},
                                  {"time", "share of the duties' time", "%"}},
                       .rows = {}}};
  const study::StrikeMap& map = *variant.strike_map;
  for (std::size_t r = 0; r < map.cells.size(); ++r)
    for (std::size_t c = 0; c < map.cells[r].size(); ++c) {
      const study::StrikeCell& cell = map.cells[r][c];
      chart.data.rows.push_back({map.shaft_speed_rpm[c], map.oil_degC[r], in_words(cell),
                                 cell.without_credit, cell.film_ratio, cell.held_V, cell.edge_V,
                                 100.0 * cell.time_share});
    }
  chart.inserts = {{"half_speed", half_step(map.shaft_speed_rpm)},
                   {"half_oil", half_step(map.oil_degC)}};
  return chart;
}

Chart impedance_chart(const Subject& subject, bool phase) {
  Chart chart{.id = phase ? "impedance-phase" : "impedance-magnitude",
              .drawing = phase ? "impedance_phase" : "impedance_magnitude",
              .title = phase ? "Phase of the path to the frame over frequency"
                             : "Impedance of the path to the frame over frequency",
              .statement = phase ? "Middle of the draws."
                                 : "Middle and, shaded, the 95 % interval. An open contact has no "
                                   "finite value and no line.",
              .data = {.fields = {{"variant", "variant"},
                                  {"age", "age"},
                                  {"frequency", "frequency", "Hz"},
                                  phase ? ChartData::Field{"phase", "phase", "°"}
                                        : ChartData::Field{"magnitude", "|Z|", "Ω"}},
                       .rows = {}},
              .inserts = {{"variants", variant_names(subject.findings)}}};
  for (const auto& variant : subject.findings.variants) {
    const VoltageRow* row = subject.voltage(variant);
    if (!row) continue;
    for (const bool end : {false, true})
      for (const study::ImpedancePoint& point :
           end ? row->impedance_end_of_service_ohm : row->impedance_ohm)
        chart.data.rows.push_back({variant.id, std::string(end ? "end of service" : "new"),
                                   point.frequency_Hz,
                                   phase ? Datum(point.phase_deg) : Datum(point.magnitude)});
  }
  return chart;
}

std::string place(const std::string& name, const VoltageRow& row) {
  return name + " at " + row.point;
}

Chart waveform_chart(const VoltageRow& row, const std::string& name) {
  Chart chart{.id = "waveform",
              .drawing = "waveform",
              .title = "Voltage over one carrier period, " + place(name, row),
              .statement =
                  "The nominal case: common mode of the inverter, and what is left of it "
                  "on the shaft without and with the path. The first edge is drawn in fine steps; "
                  "at the others the steps are too long to show the ringing.",
              .data = {.fields = {{"time", "time", "µs"},
                                  {"common", "common mode", "V"},
                                  {"without", "shaft, without the path", "V"},
                                  {"with", "shaft, with the path", "V"}},
                       .rows = {}}};
  for (const study::WaveformPoint& point : row.waveform)
    chart.data.rows.push_back(
        {us_per_s * point.time_s, point.common_mode_V, point.without_V, point.with_V});
  return chart;
}

Chart spectrum_chart(const VoltageRow& row, const std::string& name) {
  Chart chart{.id = "spectrum",
              .drawing = "spectrum",
              .title = "Spectrum of the shaft voltage, " + place(name, row),
              .statement =
                  "Strongest line in each part of the spectrum, nominal case. Shaded: the "
                  "radio bands of the table of bands. No class or limit is claimed.",
              .data = {.fields = {{"from", "from", "Hz"},
                                  {"to", "to", "Hz"},
                                  {"without", "without the path", "V"},
                                  {"with", "with the path", "V"}},
                       .rows = {}}};
  for (const study::SpectrumBin& bin : row.spectrum)
    chart.data.rows.push_back({bin.from_Hz, bin.to_Hz, bin.without_V, bin.with_V});
  Json bands = Json::array();
  for (const study::BandReduction& band : row.bands)
    bands.push_back({{"band", label(band.name)}, {"from", band.from_Hz}, {"to", band.to_Hz}});
  chart.inserts = {{"bands", std::move(bands)}};
  return chart;
}

}  // namespace

std::vector<Chart> strike_charts(const Subject& subject) {
  std::vector<Chart> charts;
  if (subject.baseline && subject.baseline->strike_map)
    charts.push_back(
        strike_chart(*subject.baseline, subject.baseline->id + " (baseline)", "baseline"));
  if (subject.other && subject.other->strike_map)
    charts.push_back(strike_chart(*subject.other, subject.name_of_other(), "other"));
  return charts;
}

std::vector<Chart> ground_charts(const Subject& subject) {
  std::vector<Chart> charts{impedance_chart(subject, false), impedance_chart(subject, true)};
  const study::VariantFindings* shown = subject.other ? subject.other : subject.baseline;
  const VoltageRow* row = shown ? subject.voltage(*shown) : nullptr;
  if (!row) return charts;
  const std::string name = subject.other ? subject.name_of_other() : shown->id;
  charts.push_back(waveform_chart(*row, name));
  charts.push_back(spectrum_chart(*row, name));
  return charts;
}

}  // namespace ohmdrag::report

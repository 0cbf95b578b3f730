#include <fmt/format.h>

#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

using study::ImpedancePoint;
using study::VoltageRow;

std::string frequency(double f_Hz) { return print_quantity(f_Hz, Dimension::frequency); }

Table figures_table(const VoltageRow& row) {
  Table table{.columns = {{"figure", "", Align::left}, {"value"}, {"unit", "", Align::left}},
              .rows = {}};
  const auto add = [&](const char* name, Cell value, const char* unit) {
    table.rows.push_back({words(name), std::move(value), words(unit)});
  };
  add("bearing voltage ratio", figure(row.bearing_voltage_ratio), "1");
  add("step at an edge, one leg, without path", figure(row.edge_step_V), "V");
  add("peak at an edge, one leg", figure(row.edge_peak_V), "V");
  add("peak at an edge, two legs", figure(row.edge_peak_two_legs_V), "V");
  add("peak at an edge, three legs", figure(row.edge_peak_three_legs_V), "V");
  add("voltage held between edges", figure(row.held_V), "V");
  add("threshold of the film", figure(row.threshold_V), "V");
  add("film thickness", figure(row.film_um), "µm");
  add("film ratio", figure(row.film_ratio), "1");
  add("discharge probability per edge", figure(row.discharge_probability_per_edge), "1");
  if (!row.struck_path.empty()) add("path struck", words(row.struck_path), "");
  add("regime", words(row.regime), "");
  return table;
}

const ImpedancePoint* at_frequency(const std::vector<ImpedancePoint>& points, double f_Hz) {
  const auto found = std::find_if(points.begin(), points.end(),
                                  [&](const ImpedancePoint& p) { return p.frequency_Hz == f_Hz; });
  return found == points.end() ? nullptr : &*found;
}

Table impedance_table(const VoltageRow& row) {
  Table table{.columns = {{"frequency", "", Align::left},
                          {"impedance, begin of service", "Ω"},
                          {"phase", "°"},
                          {"impedance, end of service", "Ω"},
                          {"phase", "°"}},
              .rows = {}};
  const auto& begin = row.impedance_ohm;
  const auto& end = row.impedance_end_of_service_ohm;
  std::vector<double> frequencies_Hz;
  for (const auto* points : {&begin, &end})
    for (const ImpedancePoint& p : *points)
      if (std::find(frequencies_Hz.begin(), frequencies_Hz.end(), p.frequency_Hz) ==
          frequencies_Hz.end())
        frequencies_Hz.push_back(p.frequency_Hz);
  for (const double f_Hz : frequencies_Hz) {
    std::vector<Cell> cells{words(frequency(f_Hz))};
    for (const auto* points : {&begin, &end}) {
      const ImpedancePoint* p = at_frequency(*points, f_Hz);
      cells.push_back(p ? figure(p->magnitude) : Cell{});
      cells.push_back(p ? words(fmt::format("{:.1f}", p->phase_deg)) : Cell{});
    }
    table.rows.push_back(std::move(cells));
  }
  return table;
}

Table band_table(const VoltageRow& row) {
  Table table{.columns = {{"band", "", Align::left},
                          {"from", "", Align::left},
                          {"to", "", Align::left},
                          {"smallest reduction", "dB"}},
              .rows = {}};
  for (const study::BandReduction& band : row.bands)
    table.rows.push_back({words(band.name), words(frequency(band.from_Hz)),
                          words(frequency(band.to_Hz)), figure(band.reduction_dB)});
  return table;
}

void print_point(const VoltageRow& row, Page& page) {
  Footnotes notes;
  const std::string flags = marks(row.flags, notes).text;
  page.say("At " + print_number(row.shaft_speed_rpm, 4) + " rpm, oil " +
           print_number(row.oil_degC, 4) + " °C, modulation index " +
           print_number(row.modulation_index, 4) + ". " + flags);
  page.say(row.in_words);
  page.space();
  page.table(figures_table(row));
  if (!row.impedance_ohm.empty() || !row.impedance_end_of_service_ohm.empty()) {
    page.space();
    page.table(impedance_table(row));
  }
  if (!row.verdicts.empty()) {
    page.space();
    page.say("Discharge over the pulse-duration credit t0:");
    print_credits(row.verdicts, false, page);
  }
  if (!row.bands.empty()) {
    page.space();
    page.say("Shaft-to-housing voltage with the path against without it; negative is more:");
    page.table(band_table(row));
  }
  if (!row.flags.empty()) page.space();
  page.notes(notes);
}

}  // namespace

void print_credits(const std::vector<study::CreditVerdict>& credits, bool with_share, Page& page) {
  Table table{.columns = {{"t0, µs", "", Align::left},
                          {"held voltage", "", Align::left},
                          {"edge", "", Align::left},
                          {"striking time share", "%"}},
              .rows = {},
              .turn = Turn::always};
  for (const study::CreditVerdict& c : credits)
    table.rows.push_back({figure(c.t0_us), words(c.held), words(c.edge),
                          with_share ? figure(100.0 * c.striking_time_share) : Cell{}});
  page.table(table);
}

void print_ground(const study::Findings& findings, Page& page) {
  for (const study::VariantFindings& variant : findings.variants) {
    for (const VoltageRow& row : variant.voltage) {
      page.heading("Shaft voltage at " + row.point + ", " + variant.id);
      print_point(row, page);
    }
  }
}

}  // namespace ohmdrag::report

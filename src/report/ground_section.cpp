#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/band_words.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

using study::ImpedancePoint;
using study::VoltageRow;

std::string frequency(double f_Hz) { return print_quantity(f_Hz, Dimension::frequency); }

/// Blank where the path is open.
Cell phase(double degrees) {
  return std::isfinite(degrees) ? words(fmt::format("{:.1f}", degrees)) : Cell{};
}

/// Nines behind the third say nothing of a film that is known to a factor.
Cell probability(const Interval& share) {
  constexpr double nearly_one = 0.999;
  return share.low > nearly_one ? words("> " + print_number(nearly_one, 3)) : figure(share);
}

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
  add("discharge probability per edge", probability(row.discharge_probability_per_edge), "1");
  if (!row.struck_path.empty()) add("path struck", words(row.struck_path), "");
  if (row.conducting_current_A)
    add("peak current through what conducts", figure(row.conducting_current_A), "A");
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
      cells.push_back(p ? phase(p->phase_deg) : Cell{});
    }
    table.rows.push_back(std::move(cells));
  }
  return table;
}

/// Bands down, operating points across.
Table band_table(const std::vector<VoltageRow>& rows) {
  Table table{
      .columns = {{"band", "", Align::left}, {"from", "", Align::left}, {"to", "", Align::left}},
      .rows = {},
      .keys = 3};
  for (const study::BandReduction& band : rows.front().bands)
    table.rows.push_back(
        {words(band.name), words(frequency(band.from_Hz)), words(frequency(band.to_Hz))});
  for (const VoltageRow& row : rows) {
    table.columns.push_back({row.point, "dB"});
    for (std::size_t b = 0; b < table.rows.size(); ++b)
      table.rows[b].push_back(b < row.bands.size() ? figure(row.bands[b].reduction_dB) : Cell{});
  }
  return table;
}

/// Variants run through the same duties: the time of a variant like the last one is not repeated.
void print_map(const study::StrikeMap& map, std::string& time_shown, Page& page) {
  page.space();
  page.say(
      "Shaft speed across, oil temperature down; the torque of each column is "
      "the mean of the duties while they drive the shaft, else zero:");
  print_strike_map(map, page);
  Page time(page.options());
  print_duty_time(map, time);
  const std::string text = time.text();
  if (text.empty()) return;
  page.space();
  if (text == time_shown)
    page.say("Time of the service mix in each cell: as above.");
  else
    print_duty_time(map, page);
  time_shown = text;
}

void print_point(const VoltageRow& row, const study::Findings& findings, Footnotes& notes,
                 Page& page) {
  page.say("At " + print_number(row.shaft_speed_rpm, 4) + " rpm, oil " +
           print_number(row.oil_degC, 4) + " °C, modulation index " +
           print_number(row.modulation_index, 4) + ". " + marks(row.flags, notes).text);
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
  print_discharge(row, findings.density_statements, notes, page);
  print_paths(row, page);
  print_spectrum(row, page);
}

void print_bands(const study::VariantFindings& variant, Page& page) {
  if (variant.voltage.empty() || variant.voltage.front().bands.empty()) return;
  page.heading("Radio bands, " + variant.id);
  page.say("Smallest reduction of the shaft-to-housing voltage in each band at each point:");
  page.table(band_table(variant.voltage));
  page.say(study::band_statement());
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
  for (const std::string& point : findings.points) {
    const bool any = std::ranges::any_of(findings.variants, [&](const auto& variant) {
      return std::ranges::find(variant.voltage, point, &VoltageRow::point) != variant.voltage.end();
    });
    if (!any) continue;
    page.heading("Shaft voltage at " + point + ", all variants");
    print_comparison(findings, point, page);
  }
  if (std::ranges::any_of(findings.variants, [](const auto& variant) {
        return !variant.voltage.empty() && !variant.voltage.front().bands.empty();
      })) {
    page.space();
    page.say(study::band_statement());
  }
  std::string time_shown;
  for (const study::VariantFindings& variant : findings.variants) {
    if (variant.strike_map) {
      page.heading("Where it strikes, " + variant.id);
      print_map(*variant.strike_map, time_shown, page);
    }
    Footnotes notes;
    for (const VoltageRow& row : variant.voltage) {
      page.heading("Shaft voltage at " + row.point + ", " + variant.id);
      print_point(row, findings, notes, page);
    }
    if (!variant.voltage.empty()) page.space();
    page.notes(notes);
    print_bands(variant, page);
  }
}

}  // namespace ohmdrag::report

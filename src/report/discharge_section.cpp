#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

using study::DischargeRow;
using study::VoltageRow;

constexpr std::size_t most_spectrum_lines = 12;
constexpr int range_digits = 3;

std::string frequency(double f_Hz) { return print_quantity(f_Hz, Dimension::frequency); }

/// One mark each of what was published about ranges that the density reaches.
std::string published(const std::vector<study::DensityStatement>& statements,
                      const Interval& density, Footnotes& notes) {
  std::string marks;
  for (const study::DensityStatement& row : statements) {
    if (density.high < row.from_A_mm2 || density.low > row.up_to_A_mm2) continue;
    const std::string range =
        (row.from_A_mm2 > 0.0 ? print_number(row.from_A_mm2, range_digits) + " to " : "up to ") +
        print_number(row.up_to_A_mm2, range_digits);
    marks += notes.mark("Published on apparent current densities of " + range +
                        " A/mm²: " + row.statement + " (" + std::string(to_word(row.basis)) + "; " +
                        row.source + ")");
  }
  return marks;
}

/// Where the middle of the density lies among the published ranges.
std::string place_of(const Interval& density,
                     const std::vector<study::DensityStatement>& statements) {
  const double middle = density.mid;
  if (!(middle > 0.0)) return {};
  double highest_passed = 0.0;
  std::string within;
  for (const study::DensityStatement& row : statements) {
    if (middle > row.up_to_A_mm2) highest_passed = std::max(highest_passed, row.up_to_A_mm2);
    if (middle < row.from_A_mm2 || middle > row.up_to_A_mm2 || !(row.from_A_mm2 > 0.0)) continue;
    within += (within.empty() ? " within " : " and ") + print_number(row.from_A_mm2, range_digits) +
              " to " + print_number(row.up_to_A_mm2, range_digits);
  }
  std::string text = "The middle of the apparent density, " + print_number(middle, 2) + " A/mm²,";
  if (!within.empty()) return text + " lies" + within + " A/mm² of which something is published.";
  if (highest_passed > 0.0)
    return text + " lies above the published range that ends at " +
           print_number(highest_passed, range_digits) + " A/mm².";
  return text + " lies in no published range.";
}

Table figures_table(const DischargeRow& row, const std::string& published_marks) {
  Table table{.columns = {{"a discharge", "", Align::left}, {"value"}, {"unit", "", Align::left}},
              .rows = {}};
  const auto add = [&](const char* name, Cell value, std::string unit) {
    table.rows.push_back({words(name), std::move(value), words(std::move(unit))});
  };
  add("path", words(row.path), "");
  const bool small = row.energy_J.mid < 1e-6;
  add("energy", figure(row.energy_J, small ? 1e9 : 1e6), small ? "nJ" : "µJ");
  add("peak current", figure(row.peak_current_A), "A");
  add("apparent current density", figure(row.apparent_density_A_mm2), "A/mm² " + published_marks);
  add("discharges", figure(row.rate_per_s), "1/s");
  if (row.rate_per_km) add("discharges", figure(row.rate_per_km), "1/km");
  add("power of all discharges", figure(row.power_W), "W");
  add("dose over the Hertz area", figure(row.dose_rate_J_mm2_h), "J/(mm² h)");
  add("an edge above the threshold", figure(row.dwell_us), "µs");
  add("edges of one leg", figure(row.one_leg_edges_per_s), "1/s");
  add("edges of two legs", figure(row.two_leg_edges_per_s), "1/s");
  add("edges of three legs", figure(row.three_leg_edges_per_s), "1/s");
  add("threshold after a first discharge", figure(row.fallen_threshold_V), "V");
  if (!row.verdict_after_first.empty())
    add("then a discharge is", words(row.verdict_after_first), "");
  return table;
}

std::string state(const study::PathRow& row) {
  if (row.conducting) return row.capacitance_pF ? "film touches, insulation holds" : "conducts";
  if (row.struck) return row.stress < 1.0 ? "weakest, below its threshold" : "struck first";
  return row.stress < 1.0 ? "below its threshold" : "above its threshold";
}

/// The bins in so few lines that a page shows them at a glance, each line with its strongest.
std::vector<study::SpectrumBin> lines_of(const std::vector<study::SpectrumBin>& bins) {
  const std::size_t together = (bins.size() + most_spectrum_lines - 1) / most_spectrum_lines;
  std::vector<study::SpectrumBin> lines;
  for (std::size_t i = 0; i < bins.size(); ++i) {
    if (i % together == 0) lines.push_back(bins[i]);
    study::SpectrumBin& line = lines.back();
    line.to_Hz = bins[i].to_Hz;
    line.without_V = std::max(line.without_V, bins[i].without_V);
    line.with_V = std::max(line.with_V, bins[i].with_V);
  }
  return lines;
}

}  // namespace

void print_discharge(const VoltageRow& row, const std::vector<study::DensityStatement>& statements,
                     Footnotes& notes, Page& page) {
  if (!row.discharge) return;
  page.space();
  const Interval& density = row.discharge->apparent_density_A_mm2;
  page.table(figures_table(*row.discharge, published(statements, density, notes)));
  if (const std::string words = place_of(density, statements); !words.empty()) page.say(words);
}

void print_paths(const VoltageRow& row, Page& page) {
  if (row.paths.empty()) return;
  page.space();
  Table table{.columns = {{"path to the frame", "", Align::left, true},
                          {"kind", "", Align::left},
                          {"capacitance", "pF"},
                          {"share of the voltage on it", "%"},
                          {"threshold", "V"},
                          {"voltage over threshold", "1"},
                          {"state", "", Align::left}},
              .rows = {}};
  for (const study::PathRow& path : row.paths)
    table.rows.push_back({words(path.id), words(path.kind), figure(path.capacitance_pF),
                          figure(100.0 * path.film_share), figure(path.threshold_V),
                          path.conducting ? words(std::string(nothing)) : figure(path.stress),
                          words(state(path))});
  page.table(table);
  page.say(row.paths_in_words);
}

void print_spectrum(const VoltageRow& row, Page& page) {
  if (row.spectrum.empty()) return;
  page.space();
  page.say("Strongest line of the shaft voltage, peak, everything at its middle:");
  Table table{.columns = {{"from", "", Align::left},
                          {"to", "", Align::left},
                          {"without the path", "V"},
                          {"with it", "V"}},
              .rows = {}};
  const auto alike = [](const study::SpectrumBin& bin) { return bin.with_V == bin.without_V; };
  const bool without_path = std::ranges::all_of(row.spectrum, alike);
  for (const study::SpectrumBin& line : lines_of(row.spectrum))
    table.rows.push_back({words(frequency(line.from_Hz)), words(frequency(line.to_Hz)),
                          figure(line.without_V), without_path ? Cell{} : figure(line.with_V)});
  page.table(table);
}

}  // namespace ohmdrag::report

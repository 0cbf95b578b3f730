#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

using study::VoltageRow;

/// The band that stands for radio in the comparison is the first with this frequency.
constexpr double medium_wave_Hz = 1e6;

Cell middle(const Interval& value) {
  return std::isfinite(value.mid) ? figure(value.mid) : words(std::string(nothing));
}

std::string worse(const std::string& a, const std::string& b) {
  constexpr std::array<std::string_view, 3> rising{"none", "possible", "expected"};
  return std::ranges::find(rising, a) < std::ranges::find(rising, b) ? b : a;
}

/// What the headline says, or its answer without credit for short pulses.
Cell verdict(const VoltageRow& row, double t0_us) {
  if (row.regime == "conducting") return words("conducts");
  const auto at = std::ranges::find(row.verdicts, t0_us, &study::CreditVerdict::t0_us);
  return words(at == row.verdicts.end() ? std::string(nothing) : worse(at->held, at->edge));
}

const study::BandReduction* medium_wave(const VoltageRow& row) {
  const auto at = std::ranges::find_if(row.bands, [](const study::BandReduction& band) {
    return band.from_Hz <= medium_wave_Hz && medium_wave_Hz <= band.to_Hz;
  });
  return at == row.bands.end() ? nullptr : &*at;
}

}  // namespace

void print_comparison(const study::Findings& findings, const std::string& point, Page& page) {
  Table table{.columns = {{"variant", "", Align::left, true},
                          {"held", "V"},
                          {"edge, two legs", "V"},
                          {"threshold", "V"},
                          {"strikes", "", Align::left},
                          {"without credit", "", Align::left},
                          {"medium wave", "dB"},
                          {"weakest path", "", Align::left, true}},
              .rows = {}};
  for (const study::VariantFindings& variant : findings.variants) {
    const auto row = std::ranges::find(variant.voltage, point, &VoltageRow::point);
    if (row == variant.voltage.end()) continue;
    const study::BandReduction* band = medium_wave(*row);
    table.rows.push_back({words(variant.id), middle(row->held_V), middle(row->edge_peak_two_legs_V),
                          middle(row->threshold_V), verdict(*row, study::headline_credit_us),
                          verdict(*row, 0.0), band ? middle(band->reduction_dB) : Cell{},
                          words(row->struck_path)});
  }
  page.table(table);
}

}  // namespace ohmdrag::report

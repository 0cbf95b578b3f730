#include <fmt/format.h>

#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/first_screen.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

using study::ExchangeRow;
using study::Findings;

std::string name_of(const ExchangeRow& row, const Findings& findings) {
  std::string out = row.variant;
  if (row.variant == findings.baseline) out += " (baseline)";
  if (row.variant == findings.trade->chosen) out += " (chosen)";
  return out;
}

/// The difference to the baseline over the whole of a duty.
const study::EnergyRow* net_energy(const Findings& findings, const std::string& variant,
                                   const std::string& duty) {
  for (const study::VariantFindings& v : findings.variants) {
    if (v.id != variant) continue;
    for (const study::EnergyRow& row : v.energy)
      if (row.duty == duty && row.phase == "whole" && row.component == "net") return &row;
  }
  return nullptr;
}

/// The remarks of a law stand in the life rows.
std::string remark_of(const Findings& findings, const std::string& law) {
  for (const study::VariantFindings& variant : findings.variants)
    for (const study::LifeRow& row : variant.life)
      for (const study::ElectricalLife& life : row.electrical)
        if (life.law == law && !life.remark.empty()) return life.remark;
  return {};
}

/// The table grows by a whole figure at a time: its head, and one cell for each variant.
class ExchangeTable {
 public:
  explicit ExchangeTable(const Findings& findings) : findings_(findings) {
    table_.turn = Turn::if_wide;
    table_.columns.push_back({"variant", "", Align::left});
    for (const ExchangeRow& row : findings.trade->exchange)
      table_.rows.push_back({words(name_of(row, findings))});
  }

  template <class CellOf>
  void add(std::string head, std::string unit, const CellOf& cell_of) {
    table_.columns.push_back({std::move(head), std::move(unit)});
    for (std::size_t i = 0; i < table_.rows.size(); ++i)
      table_.rows[i].push_back(cell_of(findings_.trade->exchange[i]));
  }

  /// A figure that only some variants have; left out if none has it.
  template <class ValueOf>
  void add_if_any(std::string head, std::string unit, const ValueOf& value_of) {
    const auto& rows = findings_.trade->exchange;
    if (std::any_of(rows.begin(), rows.end(),
                    [&](const ExchangeRow& row) { return value_of(row).has_value(); }))
      add(std::move(head), std::move(unit),
          [&](const ExchangeRow& row) { return figure(value_of(row)); });
  }

  const Table& table() const { return table_; }

 private:
  const Findings& findings_;
  Table table_;
};

void add_costs(const Findings& findings, ExchangeTable& table) {
  const auto& rows = findings.trade->exchange;
  for (std::size_t i = 0; i < findings.points.size(); ++i)
    table.add_if_any("net power at " + findings.points[i], "W",
                     [i](const ExchangeRow& row) -> std::optional<Interval> {
                       if (i < row.net_W_by_point.size()) return row.net_W_by_point[i];
                       return std::nullopt;
                     });
  if (!rows.empty() && std::all_of(rows.begin(), rows.end(), [](const ExchangeRow& row) {
        return row.net_W_by_point.empty();
      }))
    table.add("net power at " + rows.front().net_point, "W",
              [](const ExchangeRow& row) { return figure(row.point_net_W); });
  for (const std::string& duty : findings.duties) {
    const auto of_duty = [&](auto study::EnergyRow::*value) {
      return [&findings, &duty, value](const ExchangeRow& row) -> std::optional<Interval> {
        const study::EnergyRow* net = net_energy(findings, row.variant, duty);
        return net ? net->*value : std::nullopt;
      };
    };
    table.add_if_any("at the battery, " + duty, "Wh/km",
                     of_duty(&study::EnergyRow::battery_Wh_per_km));
    table.add_if_any("energy a year, " + duty, "kWh", of_duty(&study::EnergyRow::kWh_per_year));
  }
  table.add_if_any("at the battery, service mix", "Wh/km",
                   [](const ExchangeRow& row) { return row.battery_Wh_per_km; });
  table.add_if_any("energy a year, service mix", "kWh",
                   [](const ExchangeRow& row) { return row.kWh_per_year; });
}

void add_benefits(const Findings& findings, ExchangeTable& table, Footnotes& notes) {
  const auto& rows = findings.trade->exchange;
  std::vector<double> frequencies_Hz;
  for (const ExchangeRow& row : rows)
    if (row.impedance_frequency_Hz &&
        std::find(frequencies_Hz.begin(), frequencies_Hz.end(), *row.impedance_frequency_Hz) ==
            frequencies_Hz.end())
      frequencies_Hz.push_back(*row.impedance_frequency_Hz);
  for (const double f_Hz : frequencies_Hz)
    table.add_if_any(
        "impedance at " + print_quantity(f_Hz, Dimension::frequency) + ", end of service", "Ω",
        [f_Hz](const ExchangeRow& row) {
          return row.impedance_frequency_Hz == f_Hz ? row.impedance_end_of_service_ohm
                                                    : std::nullopt;
        });
  table.add("edge peak, worst point", "V",
            [](const ExchangeRow& row) { return figure(row.edge_peak_V); });
  table.add("voltage held", "V", [](const ExchangeRow& row) { return figure(row.held_V); });
  table.add("striking time share", "%",
            [](const ExchangeRow& row) { return figure(row.striking_time_share, 100.0); });
  table.add("striking time share removed", "%",
            [](const ExchangeRow& row) { return figure(row.striking_time_share_removed, 100.0); });
  table.add("dose factor, baseline to variant", "1", [](const ExchangeRow& row) {
    return row.no_discharge ? words("no discharge in the model") : figure(row.dose_factor);
  });
  const auto with_law =
      std::ranges::find_if(rows, [](const auto& row) { return !row.law.empty(); });
  if (with_law == rows.end()) return;
  const std::string remark = remark_of(findings, with_law->law);
  const std::string law =
      fmt::format("law {} {}", with_law->law, remark.empty() ? "" : notes.mark(remark));
  table.add_if_any("life of all bearings, " + law, "h",
                   [](const ExchangeRow& row) { return row.life_h; });
  table.add_if_any("life gained, " + law, "h",
                   [](const ExchangeRow& row) { return row.life_gain_h; });
  table.add_if_any("life gained by linear damage", "h",
                   [](const ExchangeRow& row) { return row.life_gain_linear_h; });
  table.add_if_any("service", "h", [](const ExchangeRow& row) { return row.service_hours; });
  table.add_if_any("service distance", "km",
                   [](const ExchangeRow& row) { return row.service_distance_km; });
}

void add_decision(ExchangeTable& table) {
  table.add("requirements met", "", [](const ExchangeRow& row) {
    return words(std::to_string(row.requirements_met) + '/' +
                 std::to_string(row.requirements_asked));
  });
  table.add_if_any("energy per avoided bearing event", "kWh",
                   [](const ExchangeRow& row) { return row.break_even.kWh_per_avoided_event; });
  table.add_if_any("break-even failure probability", "1",
                   [](const ExchangeRow& row) { return row.break_even.failure_probability; });
  table.add("not dominated", "",
            [](const ExchangeRow& row) { return words(row.nondominated ? "yes" : "no"); });
  table.add("probability of being best", "1",
            [](const ExchangeRow& row) { return figure(row.probability_best); });
}

}  // namespace

void print_trade(const Findings& findings, Page& page) {
  if (!findings.trade) return;
  print_first_screen(findings, page);
  print_exchange(findings, page);
}

void print_exchange(const Findings& findings, Page& page) {
  if (!findings.trade) return;
  const study::Trade& trade = *findings.trade;
  if (!trade.exchange.empty()) {
    Footnotes notes;
    ExchangeTable table(findings);
    add_costs(findings, table);
    add_benefits(findings, table, notes);
    add_decision(table);
    page.heading("What it costs and what it buys");
    page.table(table.table());
    page.notes(notes);
    page.space();
    for (const ExchangeRow& row : trade.exchange) {
      std::string sentences;
      for (const std::string& part : {row.verdict, row.life_in_words, row.break_even.sentence})
        if (!part.empty()) sentences += (sentences.empty() ? "" : "; ") + part;
      page.say(sentences, "· " + row.variant + ": ");
    }
  }
  if (!trade.credit_of_chosen.empty()) {
    page.heading("Discharge over the pulse-duration credit t0" +
                 (trade.chosen.empty() ? std::string() : ", " + trade.chosen));
    print_credits(trade.credit_of_chosen, true, page);
  }
}

}  // namespace ohmdrag::report

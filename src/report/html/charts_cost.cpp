// What it costs: watts, energy, and the exchange of energy for discharges.

#include <algorithm>
#include <cmath>

#include "report/html/charts.hpp"

namespace ohmdrag::report {
namespace {

using study::ExchangeRow;

constexpr double per_cent = 100.0;

/// The cost that the exchange of a study is drawn over.
struct Cost {
  std::string head;
  std::string unit;
  std::optional<Interval> (*of)(const ExchangeRow&);
};

Cost cost_of(const std::vector<ExchangeRow>& rows) {
  const auto any = [&](auto member) {
    return std::ranges::any_of(rows,
                               [member](const auto& row) { return (row.*member).has_value(); });
  };
  if (any(&ExchangeRow::battery_Wh_per_km))
    return {"net energy at the battery, service mix", "Wh/km",
            [](const ExchangeRow& row) { return row.battery_Wh_per_km; }};
  if (any(&ExchangeRow::kWh_per_year))
    return {"net energy a year, service mix", "kWh",
            [](const ExchangeRow& row) { return row.kWh_per_year; }};
  return {"net power at " + rows.front().net_point, "W",
          [](const ExchangeRow& row) { return std::optional(row.point_net_W); }};
}

/// A grid at the powers of ten alone.
Json decades() {
  const char* is_power_of_ten =
      "abs(log(datum.value) / LN10 - round(log(datum.value) / LN10)) < 1e-6";
  return {{"tickCount", 6},
          {"gridColor",
           {{"condition", {{"test", is_power_of_ten}, {"value", "<rule>"}}},
            {"value", "transparent"}}}};
}

/// Logarithmic; where no finite end is far from 1, up to ten, so that there is an axis at all.
Json factor_scale(const std::vector<ExchangeRow>& rows) {
  double highest = 1.0;
  for (const ExchangeRow& row : rows)
    if (row.dose_factor && !row.no_discharge)
      for (const double end : {row.dose_factor->low, row.dose_factor->mid, row.dose_factor->high})
        if (std::isfinite(end)) highest = std::max(highest, end);
  Json scale = {{"type", "log"}, {"nice", true}};
  if (highest < 10.0) scale["domainMax"] = 10.0;
  return scale;
}

/// There is a factor to draw: some variant but the baseline leaves discharges.
bool has_factors(const study::Findings& findings) {
  return std::ranges::any_of(findings.trade->exchange, [&findings](const ExchangeRow& row) {
    return row.variant != findings.baseline && row.dose_factor && !row.no_discharge;
  });
}

Chart exchange_chart(const Subject& subject, const Cost& cost, const std::string& what) {
  const bool dose = what == "dose";
  const std::string head =
      dose ? "dose factor, baseline to variant" : "share of driving time that strikes";
  Chart chart{.id = "exchange-" + what,
              .drawing = "exchange",
              .title = dose ? "What the energy buys: discharge dose"
                            : "What the energy buys: time in which it strikes",
              .statement =
                  dose ? "Further up is better, further left is cheaper. The dotted line joins the "
                         "variants that none other dominates. A bar that ends in a triangle has no "
                         "upper end; a lone triangle has no discharge left in the model."
                       : "Further down is better, further left is cheaper.",
              .data = {.fields = {{"variant", "variant"},
                                  {"cost", cost.head, cost.unit},
                                  {"gain", head, dose ? "1" : "%"}},
                       .rows = {}}};
  if (dose) chart.data.fields.push_back({"front", "not dominated"});
  for (const ExchangeRow& row : subject.findings.trade->exchange) {
    const Datum gain = !dose              ? Datum(scaled(row.striking_time_share, per_cent))
                       : row.no_discharge ? Datum(std::string("no discharge in the model"))
                                          : datum(row.dose_factor);
    chart.data.rows.push_back({row.variant, datum(cost.of(row)), gain});
    if (dose)
      chart.data.rows.back().emplace_back(std::in_place_type<std::string>,
                                          row.nondominated ? "yes" : "no");
  }
  chart.inserts = {
      {"variants", variant_names(subject.findings)},
      {"x", cost.head + " [" + cost.unit + "]"},
      {"y", head + (dose ? " [1]" : " [%]")},
      {"scale", dose ? factor_scale(subject.findings.trade->exchange) : Json{{"type", "linear"}}},
      {"axis", dose ? decades() : Json::object()}};
  return chart;
}

Chart allocation_chart(const study::VariantFindings& variant, const std::string& name) {
  Chart chart{.id = "allocations",
              .drawing = "allocations",
              .title = "Watts of each component, " + name,
              .statement =
                  "Dot and bar: middle and 95 % interval. Upright stroke: what was "
                  "allocated to the component.",
              .data = {.fields = {{"place", "component and operating point"},
                                  {"own", "own power", "W"},
                                  {"allocated", "allocated", "W"},
                                  {"maturity", "maturity of the allocation"}},
                       .rows = {}}};
  for (const study::BudgetRow& row : variant.budget)
    chart.data.rows.push_back({row.component + ", " + row.point, row.own_W, datum(row.allocation_W),
                               row.maturity.empty() ? Datum() : Datum(row.maturity)});
  return chart;
}

}  // namespace

Json variant_names(const study::Findings& findings) {
  Json names = Json::array({label(findings.baseline)});
  for (const study::VariantFindings& variant : findings.variants)
    if (variant.id != findings.baseline) names.push_back(label(variant.id));
  return names;
}

std::vector<Chart> exchange_charts(const Subject& subject) {
  if (!subject.findings.trade || subject.findings.trade->exchange.empty()) return {};
  const Cost cost = cost_of(subject.findings.trade->exchange);
  std::vector<Chart> charts;
  if (subject.baseline && subject.baseline->strike_map)
    charts.push_back(exchange_chart(subject, cost, "strikes"));
  if (has_factors(subject.findings)) charts.push_back(exchange_chart(subject, cost, "dose"));
  return charts;
}

std::vector<Chart> watts_charts(const Subject& subject) {
  const study::VariantFindings* shown = subject.other ? subject.other : subject.baseline;
  if (!shown) return {};
  const std::string name = subject.other ? subject.name_of_other() : shown->id;
  return {speed_chart(*shown, name), allocation_chart(*shown, name)};
}

std::vector<Chart> energy_charts(const Subject& subject) {
  const auto driving = [](const study::EnergyTotal& row) {
    return row.battery_Wh_per_km.has_value();
  };
  bool at_battery = false;
  for (const auto& variant : subject.findings.variants)
    at_battery = at_battery || std::ranges::any_of(variant.energy_totals, driving);
  Chart chart{.id = "energy",
              .drawing = "energy",
              .title = at_battery ? "Energy of all components per duty and phase"
                                  : "Mean power of all components per duty and phase",
              .statement = "Dot and bar: middle and 95 % interval of the sum, added draw by draw.",
              .data = {.fields = {{"stretch", "duty and phase"},
                                  {"variant", "variant"},
                                  {"spent", at_battery ? "at the battery" : "mean power",
                                   at_battery ? "Wh/km" : "W"}},
                       .rows = {}},
              .inserts = {{"variants", variant_names(subject.findings)},
                          {"x", at_battery ? "energy at the battery [Wh/km]" : "mean power [W]"}}};
  for (const auto& variant : subject.findings.variants)
    for (const study::EnergyTotal& row : variant.energy_totals)
      chart.data.rows.push_back({row.duty + ", " + row.phase, variant.id,
                                 at_battery ? datum(row.battery_Wh_per_km) : Datum(row.mean_W)});
  return {chart};
}

}  // namespace ohmdrag::report

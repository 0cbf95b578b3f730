#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

template <class Row>
const std::string& place_of(const Row& row) {
  return row.point.empty() ? row.duty : row.point;
}

bool has_allocation(const study::AccountRow& row) {
  return std::ranges::any_of(
      row.parts, [](const study::AccountPart& part) { return part.allocation_W.has_value(); });
}

Table totals_table(const std::vector<study::AccountRow>& rows) {
  Table table{.columns = {{"at or over", "", Align::left},
                          {"total", "W"},
                          {"allocated", "W"},
                          {"target", "W"},
                          {"reserve", "W"},
                          {"margin", "W"},
                          {"draws within", "%"},
                          {"asked for", "%"},
                          {"met", "", Align::left}},
              .rows = {}};
  const auto per_cent = [](const std::optional<double>& share) {
    return share ? figure(100.0 * *share) : Cell{};
  };
  const auto or_blank = [](const std::optional<double>& value) {
    return value ? figure(*value) : Cell{};
  };
  for (const study::AccountRow& row : rows)
    table.rows.push_back({words(place_of(row)), figure(row.total_W),
                          has_allocation(row) ? figure(row.allocated_W) : Cell{},
                          or_blank(row.target_W), or_blank(row.reserve_W), or_blank(row.margin_W),
                          per_cent(row.probability), per_cent(row.share_of_parts),
                          words(!row.met   ? ""
                                : *row.met ? "yes"
                                           : "no")});
  return table;
}

/// The parts of a duty; those of a point stand in the budget itself.
Table parts_table(const study::AccountRow& row) {
  Table table{.columns = {{"component", "", Align::left},
                          {"mean power", "W"},
                          {"allocation", "W"},
                          {"margin", "W"},
                          {"maturity", "", Align::left}},
              .rows = {}};
  for (const study::AccountPart& part : row.parts)
    table.rows.push_back({words(part.component), figure(part.own_W), figure(part.allocation_W),
                          figure(part.margin_W), words(part.maturity)});
  return table;
}

/// As the case file wants them: the digits keep the sum to a part in a million.
void say_allocations(const study::SplitRow& row, Page& page) {
  constexpr int digits = 7;
  for (const study::SplitPart& part : row.parts) {
    page.say("[[allocation]]");
    page.say("component = \"" + part.component + "\"");
    page.say((row.point.empty() ? "duty = \"" : "point = \"") + place_of(row) + "\"");
    page.say("max = \"" + print_number(part.max_W, digits) + " W\"");
    page.space();
  }
}

}  // namespace

void print_account(const study::VariantFindings& variant, Page& page) {
  if (variant.account.empty()) return;
  page.heading("Account of watts, " + variant.id);
  page.table(totals_table(variant.account));
  for (const study::AccountRow& row : variant.account) {
    if (row.duty.empty() || !has_allocation(row)) continue;
    page.heading("Mean watts over " + row.duty + ", " + variant.id);
    page.table(parts_table(row));
  }
  for (const study::SplitRow& row : variant.split) {
    page.heading(print_number(row.total_W, 6) + " W at " + place_of(row) + " shared out by " +
                 row.by + ", " + variant.id);
    say_allocations(row, page);
    for (const study::Flag& flag : row.flags) page.say(flag.text, "· ");
  }
}

void print_watt_worth(const std::vector<study::WorthRow>& rows, Page& page) {
  if (rows.empty()) return;
  const auto costs = [&](const char* head) {
    return Column{head, rows.front().currency, Align::right};
  };
  Table table{.columns = {{"duty", "", Align::left},
                          {"shaft", "", Align::left},
                          {"loss", "", Align::left},
                          {"at the shaft", "Wh/km"},
                          {"at the battery", "Wh/km"},
                          {"battery for equal range", "kWh"},
                          {"battery, over the service", "kWh"},
                          {"plug, over the service", "kWh"},
                          costs("plug, over the service"),
                          {"shaft, a year", "kWh"},
                          {"plug, a year", "kWh"},
                          costs("plug, a year")},
              .rows = {},
              .keys = 3};
  const auto or_blank = [](const std::optional<Interval>& value) {
    return value ? figure(*value) : Cell{};
  };
  for (const study::WorthRow& row : rows)
    table.rows.push_back(
        {words(row.duty), words(row.shaft), words(row.loss == "1 N*m" ? "1 N·m" : row.loss),
         or_blank(row.shaft_Wh_per_km), or_blank(row.battery_Wh_per_km),
         or_blank(row.battery_kWh_at_equal_range), or_blank(row.battery_kWh_over_service),
         or_blank(row.plug_kWh_over_service), or_blank(row.plug_cost_over_service),
         or_blank(row.shaft_kWh_per_year), or_blank(row.plug_kWh_per_year),
         or_blank(row.plug_cost_per_year)});
  page.heading("What a watt is worth");
  page.say(
      "A constant loss of one watt, or of one newton metre, while the shaft turns; each duty as if "
      "it were the whole service.");
  page.table(table);
}

}  // namespace ohmdrag::report

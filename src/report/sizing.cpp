#include "ohmdrag/report/sizing.hpp"

#include <fmt/format.h>

#include <cmath>

#include "ohmdrag/quantity/dimension.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "report/json_rows.hpp"
#include "report/page.hpp"
#include "report/sizing_page.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {

using study::SizedBy;
using study::SizingFindings;
using study::SizingLimit;
using study::SizingRow;

KnobUnit unit_of(SizedBy knob) {
  switch (knob) {
    case SizedBy::line_force:
      return {"line force", "N/mm", "line_force_N_per_m", 1e3};
    case SizedBy::total_radial_force:
      return {"radial force", "N", "total_radial_force_N", 1.0};
    case SizedBy::interference:
      return {"interference", "mm", "interference_m", 1e-3};
    case SizedBy::free_length:
      return {"free length", "mm", "free_length_m", 1e-3};
    case SizedBy::fibre_count:
      break;
  }
  return {"fibre count or packing", "", "fibre_count", 1.0};
}

namespace {

std::string side_word(SizingLimit::Side side) {
  switch (side) {
    case SizingLimit::Side::never:
      return "nowhere kept";
    case SizingLimit::Side::too_little:
      return "low edge";
    case SizingLimit::Side::too_much:
      return "high edge";
    case SizingLimit::Side::between:
      return "both edges";
    case SizingLimit::Side::always:
      break;
  }
  return "kept everywhere";
}

/// Between the last value that breaks and the first that keeps.
std::string edge_in_words(const std::optional<std::pair<double, double>>& edge, double unit) {
  if (!edge) return "";
  const auto [low, high] = std::minmax(edge->first, edge->second);
  return fmt::format("{} … {}", print_number(low / unit, 3), print_number(high / unit, 3));
}

Table limits_table(const SizingFindings& findings) {
  const KnobUnit knob = unit_of(findings.knob);
  Table table;
  table.columns = {{"limit", "", Align::left, true},
                   {"of the parts", "%"},
                   {"", "", Align::left},
                   {"edge between", knob.unit}};
  for (const SizingLimit& limit : findings.limits) {
    std::string edge = edge_in_words(limit.edge, knob.size);
    if (limit.upper_edge) edge += " and " + edge_in_words(limit.upper_edge, knob.size);
    table.rows.push_back({words(limit.what), figure(100.0 * limit.share),
                          words(side_word(limit.side)), words(edge)});
  }
  return table;
}

/// First, last or cheapest of the window.
bool at_the_window(const SizingFindings& findings, std::size_t i) {
  return !findings.inside.empty() &&
         (i == findings.inside.front() || i == findings.inside.back() || i == findings.cheapest);
}

Table curve_table(const SizingFindings& findings) {
  const KnobUnit knob = unit_of(findings.knob);
  Table table;
  table.turn = Turn::if_wide;
  table.columns = {{knob.name, knob.unit},
                   {"inside", "%"},
                   {"force at end", "N/mm"},
                   {"impedance at end", "ohm"},
                   {"net", "W"},
                   {"energy", "Wh/km"},
                   {"contact", "°C"},
                   {"worn out after", "h"},
                   {"edge peak", "V"},
                   {"time that strikes", "%"},
                   {"dose factor", ""}};
  for (std::size_t i = 0; i < findings.rows.size(); ++i) {
    const SizingRow& row = findings.rows[i];
    if (!row.coarse && !at_the_window(findings, i)) continue;
    table.rows.push_back({Cell{print_number(row.knob / knob.size, 3)}, figure(100.0 * row.inside),
                          figure(row.line_force_at_end_N_mm), figure(row.impedance_ohm),
                          figure(row.net_W), figure(row.Wh_per_km), figure(row.contact_degC),
                          figure(row.worn_out_h), figure(row.edge_peak_V),
                          figure(row.striking_share, 100.0), figure(row.dose_factor)});
  }
  return table;
}

Json edge_of(const std::optional<std::pair<double, double>>& edge) {
  return edge ? Json{edge->first, edge->second} : Json(nullptr);
}

Json row_of(const SizingRow& row) {
  Json kept = Json::array();
  for (const double share : row.kept) kept.push_back(number(share));
  return {{"knob", row.knob},
          {"share_inside", row.inside},
          {"share_keeping", std::move(kept)},
          {"line_force_N_mm", to(row.line_force_N_mm)},
          {"line_force_at_end_N_mm", to(row.line_force_at_end_N_mm)},
          {"impedance_at_end_ohm", to(row.impedance_ohm)},
          {"net_W", to(row.net_W)},
          {"Wh_per_km", to(row.Wh_per_km)},
          {"contact_degC", to(row.contact_degC)},
          {"worn_out_h", to(row.worn_out_h)},
          {"edge_peak_V", to(row.edge_peak_V)},
          {"striking_share", to(row.striking_share)},
          {"dose_factor", to(row.dose_factor)}};
}

}  // namespace

void print_window(const SizingFindings& findings, Page& page) {
  page.say(findings.verdict, "Answer: ");
  for (const std::string& remark : findings.remarks) page.say(remark, "Remark: ");
  page.heading("What bounds the window");
  page.table(limits_table(findings));
}

void print_window_figures(const SizingFindings& findings, Page& page) {
  page.heading("Over the " + unit_of(findings.knob).name);
  page.table(curve_table(findings));
}

std::string sizing(const SizingFindings& findings, const TerminalOptions& options) {
  Page page(options);
  page.title(findings.title);
  if (findings.invented) page.say("Invented scenario.");
  page.say(fmt::format("{} of {} ({}), against {}.", unit_of(findings.knob).name, findings.variant,
                       findings.element, findings.baseline),
           "Sized: ");
  page.space();
  print_window(findings, page);
  print_window_figures(findings, page);
  page.heading("Cautions");
  for (const std::string& caution : findings.cautions) page.say(caution, "- ");
  return page.text();
}

Json to(const SizingFindings& findings) {
  Json limits = Json::array(), rows = Json::array();
  for (const SizingLimit& limit : findings.limits)
    limits.push_back({{"id", limit.id},
                      {"what", limit.what},
                      {"share_of_parts", limit.share},
                      {"side", side_word(limit.side)},
                      {"edge_between", edge_of(limit.edge)},
                      {"upper_edge_between", edge_of(limit.upper_edge)}});
  for (const SizingRow& row : findings.rows) rows.push_back(row_of(row));
  Json window = nullptr;
  if (!findings.inside.empty())
    window = {{"low", findings.rows[findings.inside.front()].knob},
              {"high", findings.rows[findings.inside.back()].knob},
              {"cheapest", findings.rows[*findings.cheapest].knob}};
  return {{"variant", findings.variant},
          {"part", findings.part == study::SizedPart::seal ? "seal" : "grounding"},
          {"knob", unit_of(findings.knob).key},
          {"stated", number(findings.stated)},
          {"window", std::move(window)},
          {"verdict", findings.verdict},
          {"remarks", findings.remarks},
          {"limits", std::move(limits)},
          {"rows", std::move(rows)},
          {"cautions", findings.cautions}};
}

std::string sizing_json(const SizingFindings& findings, const std::string& version) {
  Json document{
      {"schema", "ohmdrag-size/1"},
      {"program", version},
      {"case",
       {{"title", findings.title}, {"seed", findings.seed}, {"samples", findings.samples}}}};
  document.update(to(findings));
  return escaped_for_terminal(
             document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace)) +
         '\n';
}

}  // namespace ohmdrag::report

// Which forces keep every limit, and what each costs.

#include <cmath>
#include <optional>

#include "report/html/charts.hpp"
#include "report/sizing_page.hpp"

namespace ohmdrag::report {
namespace {

using study::SizingFindings;
using study::SizingLimit;

constexpr double per_cent = 100.0;
constexpr double row_height = 36.0;  // of a limit: its words above its bar

/// Where on the axis a limit is kept; an edge is drawn in the middle of the step that it lies in.
struct Kept {
  double from, to;
};

double middle_of(const std::pair<double, double>& edge) {
  return std::sqrt(edge.first * edge.second);  // the axis is logarithmic
}

std::optional<Kept> kept_by(const SizingLimit& limit, const Kept& axis) {
  using enum SizingLimit::Side;
  switch (limit.side) {
    case never:
      return std::nullopt;
    case too_little:
      return Kept{middle_of(*limit.edge), axis.to};
    case too_much:
      return Kept{axis.from, middle_of(*limit.edge)};
    case between:
      return Kept{middle_of(*limit.edge), middle_of(*limit.upper_edge)};
    case always:
      break;
  }
  return axis;
}

Json limits_of(const SizingFindings& window, const Kept& axis, double unit) {
  Json rows = Json::array();
  for (const SizingLimit& limit : window.limits) {
    const auto kept = kept_by(limit, axis);
    Json row = {{"limit", label(limit.what) + (kept ? "" : ": nowhere kept")},
                {"start", axis.from / unit},
                {"from", kept ? Json(kept->from / unit) : Json()},
                {"to", kept ? Json(kept->to / unit) : Json()}};
    rows.push_back(std::move(row));
  }
  return rows;
}

Chart window_chart(const SizingFindings& window) {
  const KnobUnit knob = unit_of(window.knob);
  const Kept axis{window.rows.front().knob, window.rows.back().knob};
  Chart chart{
      .id = "window",
      .drawing = "window",
      .title = "Window of the " + knob.name + " of " + window.variant,
      .statement =
          "Upper panel: the bar of a limit reaches over the values that keep it. Below: what "
          "they cost, what the path is worth at the end of its service, and the share of "
          "the draws that keeps every limit; shaded: 95 % interval, with a triangle where "
          "it has no upper end because the contact is open. Grey across all panels: the "
          "window. Dotted: the value of the case.",
      .data = {.fields = {{"knob", knob.name, knob.unit},
                          {"net", "net power at the worst point", "W"},
                          {"impedance", "|Z| at the end of service", "Ω"},
                          {"inside", "draws inside every limit", "%"}},
               .rows = {}}};
  for (const study::SizingRow& row : window.rows)
    chart.data.rows.push_back(
        {row.knob / knob.size, datum(row.net_W), datum(row.impedance_ohm), per_cent * row.inside});
  Json shaded = Json::array();
  if (!window.inside.empty())
    shaded.push_back({{"low", window.rows[window.inside.front()].knob / knob.size},
                      {"high", window.rows[window.inside.back()].knob / knob.size}});
  chart.inserts = {{"x", knob.unit.empty() ? knob.name : knob.name + " [" + knob.unit + "]"},
                   {"domain", Json::array({axis.from / knob.size, axis.to / knob.size})},
                   {"window", std::move(shaded)},
                   {"stated", Json::array({Json{{"stated", window.stated / knob.size}}})},
                   {"heights", Json::array({row_height * static_cast<double>(window.limits.size()),
                                            150, 150, 90})},
                   {"limits", limits_of(window, axis, knob.size)}};
  return chart;
}

}  // namespace

std::vector<Chart> window_charts(const Subject& subject) {
  const auto& window = subject.findings.window;
  if (!window || window->rows.empty()) return {};
  return {window_chart(*window)};
}

}  // namespace ohmdrag::report

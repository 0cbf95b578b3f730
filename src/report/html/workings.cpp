#include <algorithm>
#include <array>
#include <string_view>

#include "report/html/markup.hpp"
#include "report/html/parts_of_page.hpp"

namespace ohmdrag::report {
namespace {

struct Family {
  std::string_view home;
  bool at_point;
  std::vector<std::string_view> figures;
};

/// Figures by the appendix that they belong to.
const std::vector<Family>& families() {
  static const std::vector<Family> all{
      {"exchange", true, {"net_W"}},
      {"exchange",
       false,
       {"battery_Wh_per_km", "kWh_per_year", "striking_time_share", "dose_factor"}},
      {"grounding",
       true,
       {"edge_peak_V", "held_V", "threshold_V", "impedance_at_1_MHz_ohm", "edge_step_V",
        "discharge_rate_per_s", "dose_rate_W_per_mm2"}},
      {"life",
       false,
       {"life_h", "life_gain_h", "modified_life_h", "basic_life_h", "break_even_kWh"}},
      {"watts", true, {"total_W"}}};
  return all;
}

std::string_view family_of(std::string_view figure) { return figure.substr(0, figure.find(':')); }

std::string_view variant_of(std::string_view figure) {
  const std::string_view rest = figure.substr(std::min(figure.size(), figure.find(':') + 1));
  return rest.substr(0, rest.find('@'));
}

/// The quantity of a requirement and the figure that it is asked of.
struct Asked {
  std::string_view quantity, figure;
};
constexpr std::array asked_figures{Asked{"impedance-magnitude", "impedance_at_1_MHz_ohm"},
                                   Asked{"net-power", "net_W"},
                                   Asked{"edge-peak", "edge_peak_V"},
                                   Asked{"held-voltage", "held_V"},
                                   Asked{"striking-time-share", "striking_time_share"},
                                   Asked{"dose-factor", "dose_factor"},
                                   Asked{"battery-energy-per-distance", "battery_Wh_per_km"},
                                   Asked{"mechanical-life", "basic_life_h"},
                                   Asked{"modified-life", "modified_life_h"}};

std::string id_of(const Working& working, const HtmlParts& parts) {
  return "working-" + std::to_string(&working - parts.workings.data() + 1);
}

/// The chain, a line each.
std::string chain_of(const Working& working, const HtmlParts& parts) {
  std::string out = "<pre class=chain tabindex=0 role=region aria-label=\"Working of " +
                    escaped(working.figure) + "\" id=" + id_of(working, parts) + ">";
  for (const std::string& line : working.lines) out += "<code>" + escaped(line) + "</code>\n";
  return out + "</pre>\n";
}

std::string command_for(const Subject& subject) {
  return "<code>ohmdrag explain " + escaped(subject.findings.file) + "</code>";
}

}  // namespace

std::vector<std::string> workings_wanted(const study::Findings& findings) {
  const Subject about = subject(findings);
  if (!about.other || !about.exchange) return {};
  std::vector<std::string> wanted;
  const auto add = [&](const Family& family, std::string_view figure, const std::string& variant,
                       const std::string& point) {
    wanted.push_back(std::string(figure) + ':' + variant + (family.at_point ? '@' + point : ""));
  };
  for (const Family& family : families())
    for (const std::string_view figure : family.figures)
      add(family, figure, about.other->id, about.exchange->net_point);
  for (const study::VariantFindings& variant : findings.variants)
    if (&variant != about.other)
      for (const Family& family : families())
        if (family.home == "exchange" || family.home == "life")
          for (const std::string_view figure : family.figures)
            add(family, figure, variant.id, about.exchange->net_point);
  return wanted;
}

std::string home_of(const std::string& figure, const Subject& subject) {
  for (const Family& family : families())
    for (const std::string_view one : family.figures)
      if (one == family_of(figure))
        return family.home == "exchange" && subject.other && variant_of(figure) == subject.other->id
                   ? "answer"
                   : std::string(family.home);
  return "method";
}

std::string workings(const std::string& home, const Subject& subject, const HtmlParts& parts) {
  std::string chains;
  const Working* first = nullptr;
  for (const Working& working : parts.workings) {
    if (home_of(working.figure, subject) != home) continue;
    if (!first) first = &working;
    chains += "<details><summary>" + escaped(working.figure) + ": " + escaped(working.what) +
              "</summary>\n" + chain_of(working, parts) + "</details>\n";
  }
  if (!first) return {};
  std::string out = "<details class=workings><summary>How these figures come about</summary>\n";
  if (!first->notes.empty()) out += "<p>" + escaped(first->notes.front()) + "</p>\n";
  out +=
      "<p>Each line can be retyped with the values above it: + − * / ^ (power), pi, sqrt exp ln lg "
      "(to the base of ten) asin max min. A line without a formula is an input, is taken from what "
      "it names, or is a root whose equation stands further down. " +
      command_for(subject) + " lists the figures that can be explained besides.</p>\n";
  return out + chains + "</details>\n";
}

std::string workings_of_requirements(const Subject& subject, const HtmlParts& parts) {
  if (!subject.other) return {};
  std::string links;
  for (const Working& working : parts.workings) {
    if (variant_of(working.figure) != subject.other->id) continue;
    const bool asked = std::ranges::any_of(subject.other->requirements, [&](const auto& row) {
      const auto* known = std::ranges::find(asked_figures, row.quantity, &Asked::quantity);
      return known != asked_figures.end() && known->figure == family_of(working.figure);
    });
    if (!asked) continue;
    links += (links.empty() ? "" : ", ") + std::string("<a href=\"#") + id_of(working, parts) +
             "\">" + escaped(working.figure) + "</a>";
  }
  return links.empty() ? links
                       : "<p class=workings>How the figures come about: " + links + ".</p>\n";
}

}  // namespace ohmdrag::report

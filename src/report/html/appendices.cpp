#include "ohmdrag/report/html.hpp"
#include "report/html/charts.hpp"
#include "report/html/markup.hpp"
#include "report/html/parts_of_page.hpp"
#include "report/sections.hpp"
#include "report/sizing_page.hpp"

namespace ohmdrag::report {
namespace {

constexpr TerminalOptions grid_as_wide_as_it_is{.width = 160};

/// What a section prints, without the heading that the appendix has already.
template <class Print>
std::string printed_by(const Print& print, const std::string& heading = {}) {
  Page page(grid_as_wide_as_it_is);
  print(page);
  std::vector<Block> blocks = page.blocks();
  if (!blocks.empty() && blocks.front().kind == Block::Kind::heading &&
      blocks.front().text == heading)
    blocks.erase(blocks.begin());
  return markup(blocks);
}

std::string drawn(const std::vector<Chart>& charts, const HtmlParts& parts) {
  std::string out;
  for (const Chart& chart : charts) out += markup(chart, parts);
  return out;
}

std::string folded(const std::string& summary, const std::string& content) {
  if (content.empty()) return {};
  return "<details><summary>" + escaped(summary) + "</summary>\n" + content + "</details>\n";
}

std::string or_else(const std::string& content, const std::string& sentence) {
  return content.empty() ? "<p>" + escaped(sentence) + "</p>\n" : content;
}

struct Appendix {
  std::string id;
  std::string heading;
  std::string content;
};

std::string forces(const Subject& subject, const HtmlParts& parts) {
  if (const auto& window = subject.findings.window)
    return drawn(window_charts(subject), parts) +
           printed_by([&](Page& page) { print_window(*window, page); }) +
           folded("Every figure over the force",
                  printed_by([&](Page& page) { print_window_figures(*window, page); }));
  const std::string variant = subject.other ? " --variant " + subject.other->id : "";
  return "<p>Which forces keep every limit, and what each costs, is not part of this study. With "
         "<code>--with-window</code> the command <code>ohmdrag trade</code> scans the force and "
         "adds them; <code>ohmdrag size " +
         escaped(subject.findings.file + variant) + "</code> prints them alone.</p>\n";
}

std::vector<Appendix> all_of(const Subject& subject, const HtmlParts& parts) {
  const study::Findings& findings = subject.findings;
  const auto of_findings = [&findings](void (*print)(const study::Findings&, Page&),
                                       const std::string& heading = {}) {
    return printed_by([&](Page& page) { print(findings, page); }, heading);
  };
  const std::string compared = printed_by([&](Page& page) {
    for (const std::string& point : findings.points) {
      page.heading("Shaft voltage at " + point + ", all variants");
      print_comparison(findings, point, page);
    }
  });
  const std::string whole_register =
      markup(register_table(findings, findings.assumptions.size()), "Register of assumptions");
  return {
      {"requirements", "Requirements",
       or_else(of_findings(print_requirements, "Requirements") +
                   workings_of_requirements(subject, parts),
               "The case asks for nothing.")},
      {"exchange", "The exchange",
       drawn(exchange_charts(subject), parts) + of_findings(print_exchange) +
           workings("exchange", subject, parts)},
      {"watts", "Watts per component",
       drawn(watts_charts(subject), parts) +
           folded("Watts, torque and temperature of every variant at every operating point",
                  of_findings(print_budget)) +
           workings("watts", subject, parts)},
      {"energy", "Energy per duty and phase",
       drawn(energy_charts(subject), parts) + drawn(course_charts(subject), parts) +
           folded("Energy of every component", of_findings(print_energy))},
      {"strikes", "Where it strikes",
       or_else(drawn(strike_charts(subject), parts),
               "There is no map: the case states no inverter, coupling or bearings.")},
      {"grounding", "Grounding and radio bands",
       drawn(ground_charts(subject), parts) + compared +
           folded("Every variant at every operating point", of_findings(print_ground)) +
           workings("grounding", subject, parts)},
      {"life", "Life and break-even",
       drawn(life_charts(subject), parts) +
           folded("Discharges and bearing life of every variant", of_findings(print_life)) +
           folded("Over the years", of_findings(print_years)) + workings("life", subject, parts)},
      {"forces", "Window of forces", forces(subject, parts)},
      {"moves", "What moves the answer",
       drawn(moves_charts(subject), parts) +
           of_findings(print_sensitivity, "What moves the answer")},
      {"register", "Register of assumptions",
       of_findings(print_register) + folded("The whole register", whole_register)},
      {"harm", "Account of harm",
       or_else(of_findings(print_harm), "No variant beside the baseline does anything else.")},
      {"cautions", "Cautions and what is not claimed",
       of_findings(print_cautions) + of_findings(print_not_claimed)},
      {"method", "Method", method(parts)},
      {"reproduce", "How to get the same figures", reproducibility(findings, parts)}};
}

}  // namespace

std::string section(const std::string& id, const std::string& heading, const std::string& content) {
  return "<section id=\"" + id + "\">\n<h2>" + heading + "</h2>\n" + content + "</section>\n";
}

std::string appendices(const Subject& subject, const HtmlParts& parts) {
  const std::vector<Appendix> all = all_of(subject, parts);
  std::string out = "<nav aria-label=\"Appendices\"><h2>Appendices</h2>\n<ol>\n";
  for (const Appendix& one : all)
    out += "<li><a href=\"#" + one.id + "\">" + one.heading + "</a></li>\n";
  out += "</ol></nav>\n";
  for (const Appendix& one : all) out += section(one.id, one.heading, one.content);
  return out;
}

}  // namespace ohmdrag::report

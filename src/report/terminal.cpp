#include "ohmdrag/report/terminal.hpp"

#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

std::string name_and_title(const study::VariantFindings& variant, const study::Findings& findings) {
  std::string out = variant.id;
  if (variant.id == findings.baseline) out += " (baseline)";
  if (!variant.title.empty()) out += ": " + variant.title;
  return out;
}

void print_head(const study::Findings& findings, Page& page) {
  page.title(findings.title.empty() ? findings.file : findings.title);
  if (findings.invented) page.say("Invented scenario.");
  page.say(findings.question, "Question: ");
  page.say(findings.baseline, "Baseline: ");
  std::string changes;
  for (const std::string& change : findings.changes)
    changes += (changes.empty() ? "" : "; ") + change;
  page.say(changes, "Changed:  ");
  if (findings.variants.empty()) return;
  page.heading("Variants");
  for (const study::VariantFindings& variant : findings.variants)
    page.say(name_and_title(variant, findings), "· ");
}

void print_body(const study::Findings& findings, Page& page) {
  const std::string& command = findings.command;
  if (command == "trade") {
    print_trade(findings, page);
  } else if (command == "budget") {
    print_budget(findings, page);
  } else if (command == "energy") {
    print_energy(findings, page);
  } else if (command == "ground") {
    print_ground(findings, page);
  } else if (command == "life") {
    print_life(findings, page);
    print_years(findings, page);
  } else {
    print_trade(findings, page);
    print_budget(findings, page);
    print_energy(findings, page);
    print_ground(findings, page);
    print_life(findings, page);
    print_years(findings, page);
  }
}

}  // namespace

Page whole_page(const study::Findings& findings, const TerminalOptions& options) {
  Page page(options);
  print_head(findings, page);
  print_trade(findings, page);
  print_requirements(findings, page);
  print_budget(findings, page);
  print_energy(findings, page);
  print_ground(findings, page);
  print_life(findings, page);
  print_years(findings, page);
  print_harm(findings, page);
  print_register(findings, page);
  print_cautions(findings, page);
  print_not_claimed(findings, page);
  return page;
}

std::string terminal(const study::Findings& findings, const TerminalOptions& options) {
  Page page(options);
  print_head(findings, page);
  print_body(findings, page);
  print_harm(findings, page);
  print_requirements(findings, page);
  print_doubt(findings, page);
  print_sensitivity(findings, page);
  print_register(findings, page);
  print_cautions(findings, page);
  print_not_claimed(findings, page);
  return page.text();
}

}  // namespace ohmdrag::report

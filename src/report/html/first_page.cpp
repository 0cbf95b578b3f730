#include "report/first_screen.hpp"
#include "report/html/markup.hpp"
#include "report/html/parts_of_page.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

std::string paragraph_of(const std::string& text) {
  return text.empty() ? std::string() : "<p>" + escaped(text) + "</p>\n";
}

std::string head_of(const study::Findings& findings, const Subject& subject) {
  const std::string title = findings.title.empty() ? findings.file : findings.title;
  std::string out = "<header>\n<p class=kind>Trade study";
  if (findings.invented) out += ", invented scenario";
  out += "</p>\n<h1>" + escaped_heading(title) + "</h1>\n";
  if (!findings.question.empty())
    out += "<p class=question>" + escaped(findings.question) + "</p>\n";
  out += "<p>Baseline: " + escaped(findings.baseline);
  if (subject.baseline && !subject.baseline->title.empty())
    out += ", " + escaped(subject.baseline->title);
  out += ".</p>\n";
  if (!findings.changes.empty()) {
    std::string changes;
    for (const std::string& change : findings.changes)
      changes += (changes.empty() ? "" : "; ") + change;
    out += "<p>Changed on the command line: " + escaped(changes) + "</p>\n";
  }
  return out + "</header>\n";
}

std::string answer_of(const study::Trade& trade) {
  return "<h2>Answer</h2>\n<p class=answer><b>" + escaped(chosen_in_words(trade)) + "</b> " +
         escaped(trade.reason) + "</p>\n<p><b>" + escaped(rung_in_words(trade.claim)) + ":</b> " +
         escaped(trade.claim.sentence) + "</p>\n<p><b>For the next rung:</b> " +
         escaped(trade.claim.missing) + ".</p>\n";
}

std::string number_of(const ScreenNumber& number) {
  std::string value = "<span class=value>" + escaped(number.value.text) + "</span>";
  if (!number.unit.empty()) value += " <span class=unit>" + escaped(number.unit) + "</span>";
  if (!number.value.tail.empty())
    value += "<br><span class=ends>" + escaped(number.value.tail) + "</span>";
  return "<div><dt>" + escaped(number.what) + "</dt><dd>" + value + "</dd></div>\n";
}

std::string numbers_of(const Subject& subject) {
  std::string out;
  for (const ScreenNumber& number : three_numbers(subject)) out += number_of(number);
  if (out.empty()) return out;
  return "<h2>Three numbers</h2>\n<p>" + escaped(numbers_of_whom(subject)) +
         "</p>\n<dl class=numbers>\n" + out + "</dl>\n";
}

std::string doubts_of(const study::Findings& findings) {
  const std::vector<ScreenDoubt> doubts = three_doubts(findings);
  if (doubts.empty()) return {};
  std::string out;
  for (const ScreenDoubt& doubt : doubts)
    out += "<li><b>" + escaped(doubt.name) + "</b> " + escaped(doubt.text) + "</li>\n";
  return "<h2>" + doubts_heading(doubts.size()) +
         "</h2>\n<p>The numbers without evidence that move the answer most.</p>\n<ol>\n" + out +
         "</ol>\n";
}

std::string assumed_of(const study::Findings& findings) {
  std::string out;
  for (const std::string& sentence : assumed_share_in_words(findings))
    out += paragraph_of(sentence);
  return out.empty() ? out : "<h2>How much rests on assumed inputs</h2>\n" + out;
}

std::string argument_of(const study::Findings& findings) {
  if (!findings.sensitivity || findings.sensitivity->argument_against.empty()) return {};
  return "<h2>The strongest argument against</h2>\n" +
         paragraph_of(findings.sensitivity->argument_against);
}

}  // namespace

std::string first_page(const Subject& subject, const HtmlParts& parts) {
  const study::Findings& findings = subject.findings;
  std::string out = head_of(findings, subject) + "<section id=answer class=first>\n";
  if (findings.trade) out += answer_of(*findings.trade);
  out += numbers_of(subject) + workings("answer", subject, parts) + doubts_of(findings) +
         assumed_of(findings) + argument_of(findings);
  return out +
         "<p class=note>An estimate for trade studies, not a safety case. High voltage, "
         "rotating shafts and hot parts: see the <a href=\"#cautions\">cautions</a>.</p>\n"
         "</section>\n";
}

}  // namespace ohmdrag::report

#include "ohmdrag/report/ask.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "ohmdrag/quantity/print.hpp"
#include "report/json_rows.hpp"
#include "report/page.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

using study::AskFindings;
using study::OpenQuestion;

void say_what_was_looked_at(const AskFindings& findings, Page& page) {
  page.say(fmt::format("{} numbers are unknown or assumed and have a spread; {} of them move "
                       "nothing that decides and are not asked.",
                       findings.open, findings.irrelevant),
           "- ");
  if (findings.left_out > 0.0)
    page.say(fmt::format("Evaluated as known were the {} that move it most. Each of the others "
                         "moves what decides by at most {} % of its interval; --closely N looks at "
                         "more.",
                         findings.closely, print_number(100.0 * findings.left_out, 2)),
             "- ");
  if (findings.without_spread > 0)
    page.say(fmt::format("{} assumed numbers carry no spread: nothing says how far off they may "
                         "be, so none of them can be asked here.",
                         findings.without_spread),
             "- ");
  page.say(
      "One number at a time, at 11, 50 and 89 % of what it may be; what counts only together "
      "with another number is not seen.",
      "- ");
}

Json json_of(const OpenQuestion& question) {
  Json turns = Json::array(), known = Json::array();
  for (const study::VerdictTurn& turn : question.turns)
    turns.push_back({{"variant", turn.variant},
                     {"requirement", turn.requirement},
                     {"probability", turn.probability}});
  for (const study::KnownAt& at : question.known)
    known.push_back(
        {{"share", at.share}, {"value", number(at.value)}, {"chosen", word_or_null(at.chosen)}});
  return {{"key", question.key},
          {"question", question.text},
          {"where", question.where},
          {"consequence", question.consequence},
          {"value", question.value},
          {"unit", question.unit},
          {"basis", to_word(question.basis)},
          {"source", question.source},
          {"unknown", question.unknown},
          {"gain", question.gain},
          {"choice_turns", question.choice_turns},
          {"requirements_turn", std::move(turns)},
          {"known", std::move(known)}};
}

/// What is chosen, and how often draws agree one by one.
std::string choice_now(const AskFindings& findings) {
  const std::string right = print_number(100.0 * findings.right, 3);
  if (findings.chosen.empty())
    return fmt::format("no variant; that is right in {} % of the draws.", right);
  if (findings.chosen == findings.baseline)
    return fmt::format(
        "{}, the present design, as no variant is shown to be worth it in 95 % of the draws; taken "
        "one by one, it is the right one in {} % of them.",
        findings.chosen, right);
  return fmt::format("{}; it is the right one in {} % of the draws.", findings.chosen, right);
}

}  // namespace

std::string questions(const AskFindings& findings, const TerminalOptions& options) {
  Page page(options);
  page.title("Questions: " + findings.title);
  if (findings.invented) page.say("Invented scenario.");
  page.say(choice_now(findings), "Choice now: ");
  page.space();
  if (findings.questions.empty())
    page.say(findings.open == 0
                 ? "Nothing to ask: no number that is unknown or assumed has a spread."
                 : "Nothing to ask: none of the numbers looked at turns the choice or a "
                   "requirement, whatever it is within its spread.");
  for (std::size_t i = 0; i < findings.questions.size(); ++i) {
    const OpenQuestion& question = findings.questions[i];
    page.say(question.text, fmt::format("{}. ", i + 1));
    page.say(question.consequence, "   What hangs on it: ");
    page.say(question.where + '.', "   Where to find it: ");
    page.space();
  }
  page.heading("What was looked at");
  say_what_was_looked_at(findings, page);
  page.heading("Cautions");
  for (const std::string& caution : findings.cautions) page.say(caution, "- ");
  return std::move(page).text();
}

std::string questions_json(const AskFindings& findings, const std::string& version) {
  Json questions = Json::array();
  for (const OpenQuestion& question : findings.questions) questions.push_back(json_of(question));
  const Json document{
      {"schema", "ohmdrag-ask/1"},
      {"program", version},
      {"case", {{"title", findings.title}, {"seed", findings.seed}, {"samples", findings.samples}}},
      {"chosen", word_or_null(findings.chosen)},
      {"right", findings.right},
      {"open", findings.open},
      {"irrelevant", findings.irrelevant},
      {"closely", findings.closely},
      {"left_out", number(findings.left_out)},
      {"without_spread", findings.without_spread},
      {"questions", std::move(questions)},
      {"cautions", findings.cautions}};
  return escaped_for_terminal(
             document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace)) +
         '\n';
}

}  // namespace ohmdrag::report

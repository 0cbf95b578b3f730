#include "ohmdrag/report/explain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "report/json_rows.hpp"
#include "report/page.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

using study::ExplainLine;
using study::Explanation;

std::string value_of(const ExplainLine& line) {
  if (line.sealed) return line.band.empty() ? "[sealed]" : fmt::format("[sealed, {}]", line.band);
  return fmt::format("{:.10g}{}{}", line.value, line.unit.empty() ? "" : " ", line.unit);
}

std::string kind_of(ExplainLine::Kind kind) {
  switch (kind) {
    case ExplainLine::Kind::given:
      return "given";
    case ExplainLine::Kind::taken:
      return "taken";
    case ExplainLine::Kind::solved:
      return "solved";
    case ExplainLine::Kind::step:
      break;
  }
  return "step";
}

std::string in_a_line(const ExplainLine& line) {
  std::string text = line.symbol + " = ";
  if (!line.expression.empty()) text += line.expression + " = ";
  text += value_of(line) + "   " + line.meaning;
  if (!line.validity.empty()) text += fmt::format(" [valid: {}]", line.validity);
  if (!line.source.empty())
    text += fmt::format(" [{}: {}]", line.kind == ExplainLine::Kind::taken ? "taken from" : "from",
                        line.source);
  return text;
}

Json json_of(const ExplainLine& line) {
  return {{"symbol", line.symbol},
          {"kind", kind_of(line.kind)},
          {"meaning", line.meaning},
          {"expression", word_or_null(line.expression)},
          {"value", number(line.value)},
          {"sealed", line.sealed},
          {"band", word_or_null(line.band)},
          {"unit", line.unit},
          {"validity", word_or_null(line.validity)},
          {"source", line.source}};
}

std::string serialized(const Json& document) {
  return escaped_for_terminal(
             document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace)) +
         '\n';
}

}  // namespace

std::string explain_text(const std::vector<ExplainLine>& lines) {
  std::string text;
  for (const ExplainLine& line : lines) text += harmless(in_a_line(line)) + '\n';
  return text;
}

std::string explanation(const Explanation& explanation, const TerminalOptions& options) {
  Page page(options);
  page.title(explanation.figure + ": " + explanation.what);
  for (const std::string& note : explanation.notes) page.say(note, "- ");
  page.say(
      "Retype a line with the values above it: + - * / ^ (power), pi, sqrt exp ln lg (to the "
      "base of ten) asin max min. A line without an expression is an input, is taken from "
      "what it names, or is a root whose equation stands further down.",
      "- ");
  page.space();
  std::string text = std::move(page).text() + explain_text(explanation.lines);
  const ExplainLine& answer =
      *std::ranges::find(explanation.lines, explanation.answer, &ExplainLine::symbol);
  if (answer.sealed) return text + fmt::format("\n{} is sealed here.\n", explanation.answer);
  return text + fmt::format("\n{} = {:.10g} {} here; the program has {:.10g}.\n",
                            explanation.answer, answer.value, explanation.unit,
                            explanation.program_value);
}

std::string explainable(const std::vector<study::ExplainableFigure>& figures,
                        const TerminalOptions& options) {
  Table table;
  table.columns = {{"figure", "", Align::left}, {"", "", Align::left, true}};
  for (const study::ExplainableFigure& figure : figures)
    table.rows.push_back({words(figure.name), words(figure.what)});
  Page page(options);
  page.title("What can be explained");
  page.table(table);
  return std::move(page).text();
}

std::string explanation_json(const Explanation& explanation, const std::string& version) {
  Json lines = Json::array();
  for (const ExplainLine& line : explanation.lines) lines.push_back(json_of(line));
  return serialized({{"schema", "ohmdrag-explain/1"},
                     {"program", version},
                     {"figure", explanation.figure},
                     {"what", explanation.what},
                     {"answer", explanation.answer},
                     {"unit", explanation.unit},
                     {"program_value", number(explanation.program_value)},
                     {"lines", std::move(lines)},
                     {"notes", explanation.notes}});
}

std::string explainable_json(const std::vector<study::ExplainableFigure>& figures,
                             const std::string& version) {
  Json rows = Json::array();
  for (const study::ExplainableFigure& figure : figures)
    rows.push_back({{"figure", figure.name}, {"what", figure.what}});
  return serialized(
      {{"schema", "ohmdrag-explain/1"}, {"program", version}, {"figures", std::move(rows)}});
}

}  // namespace ohmdrag::report

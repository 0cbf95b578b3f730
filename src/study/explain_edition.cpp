#include "study/explain_edition.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "ohmdrag/study/edition.hpp"

namespace ohmdrag::study {
namespace {

bool stays(const ExplainLine& line, const std::vector<ExplainLine>& moved) {
  const auto again = std::ranges::find(moved, line.symbol, &ExplainLine::symbol);
  return again != moved.end() && again->value == line.value && again->expression == line.expression;
}

}  // namespace

void seal_chain(Share reader, const std::vector<UncertainNumber>& sealed,
                const std::vector<ExplainLine>& moved, Explanation& explanation) {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  std::size_t taken_out = 0;
  for (ExplainLine& line : explanation.lines) {
    for (std::string* text : {&line.meaning, &line.expression, &line.validity, &line.source})
      *text = without_sealed(std::move(*text), sealed);
    const auto number = std::ranges::find(sealed, line.key, &UncertainNumber::key);
    const bool is_one = !line.key.empty() && number != sealed.end();
    if (!is_one && stays(line, moved)) continue;
    ++taken_out;
    line.value = nan;
    line.sealed = true;
    if (!is_one) continue;
    line.band = band_in_words(*number);
    line.source = fmt::format("{}, {}", to_word(number->basis), line.key);
  }
  const auto answer =
      std::ranges::find(explanation.lines, explanation.answer, &ExplainLine::symbol);
  if (answer != explanation.lines.end() && answer->sealed) explanation.program_value = nan;
  for (std::string& note : explanation.notes) note = without_sealed(std::move(note), sealed);
  if (taken_out > 0)
    explanation.notes.push_back(fmt::format(
        "Edition for {} readers: {} lines hang on sealed values and show no number, because the "
        "others and the formula would give it away. A report shows the figure alone.",
        to_word(reader), taken_out));
}

}  // namespace ohmdrag::study

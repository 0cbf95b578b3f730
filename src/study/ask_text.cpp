#include <fmt/format.h>

#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "study/ask_words.hpp"

namespace ohmdrag::study {
namespace {

std::string choice(const std::string& chosen) { return chosen.empty() ? "no variant" : chosen; }

}  // namespace

std::string question_consequence(const OpenQuestion& question, const std::string& chosen) {
  std::vector<std::string> parts;
  for (const KnownAt& at : question.known)
    if (at.chosen != chosen)
      parts.push_back(fmt::format(
          "{} the choice turns from {} to {}",
          std::isnan(at.value) ? std::string("at another value")
                               : fmt::format("near {}{}{}", print_number(at.value, 3),
                                             question.unit.empty() ? "" : " ", question.unit),
          choice(chosen), choice(at.chosen)));
  for (const VerdictTurn& turn : question.turns)
    parts.push_back(fmt::format("{} of {} turns in {} % of the cases", turn.requirement,
                                turn.variant, print_number(100.0 * turn.probability, 2)));
  if (question.gain > 0.0)
    parts.push_back(fmt::format("knowing it makes the choice right in {} % more of the draws",
                                print_number(100.0 * question.gain, 2)));
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
  if (!text.empty()) text += '.';
  return text;
}

std::string question_text(const OpenQuestion& question) {
  return fmt::format("What is {} ({})? We reckon with {}{}{}, {}{}.", ask_words(question.key).what,
                     question.key, question.value, question.unit.empty() ? "" : " ", question.unit,
                     question.unknown ? "because nobody told us: the trade's range"
                                      : std::string(to_word(question.basis)),
                     question.source.empty() || question.unknown ? "" : ": " + question.source);
}

}  // namespace ohmdrag::study

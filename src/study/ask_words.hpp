#pragma once

#include <string>
#include <string_view>

#include "ohmdrag/study/ask.hpp"

namespace ohmdrag::study {

/// How a number is asked for.
struct AskWords {
  std::string_view what;   ///< "the capacitance between winding and rotor"
  std::string_view where;  ///< where the answer is found
};

/// By the dotted key of the number.
AskWords ask_words(std::string_view key);

/// Whether nobody but the user can answer: limits, budgets and prices are decisions, no facts.
bool is_decision(std::string_view key);

/// "What is …? We reckon with …"
std::string question_text(const OpenQuestion& question);
/// What hangs on it, likeliest first; values that are NaN stay unsaid.
std::string question_consequence(const OpenQuestion& question, const std::string& chosen);

}  // namespace ohmdrag::study

#pragma once

#include <string>
#include <vector>

#include "report/html/subject.hpp"
#include "report/page.hpp"

/// What a trade study says first, in the words that terminal, Markdown and HTML lay out.
namespace ohmdrag::report {

/// "dense-ring, probability of being best 0.81."
std::string chosen_in_words(const study::Trade& trade);
/// "Claim, rung 5 of 7"
std::string rung_in_words(const study::Claim& claim);

/// One of the three numbers: cost, dose and time of the variant that the page speaks of.
struct ScreenNumber {
  Cell value;
  std::string unit;
  std::string what;  ///< "energy it costs at the battery, over the service mix"
};
/// None without a trade, or with the baseline alone.
std::vector<ScreenNumber> three_numbers(const Subject& subject);
/// "Of dense-ring (chosen) against the baseline; in brackets 95 % of the draws."
std::string numbers_of_whom(const Subject& subject);

/// A number that nobody has measured and that moves the answer.
struct ScreenDoubt {
  std::string name;
  std::string text;  ///< what stands in for it, why it is in doubt and what it moves
};
/// At most three, those that move most first.
std::vector<ScreenDoubt> three_doubts(const study::Findings& findings);
/// "Three doubts", "One doubt".
std::string doubts_heading(std::size_t count);

/// Answer, three numbers, three doubts, how much rests on assumed inputs and the strongest argument
/// against.
void print_first_screen(const study::Findings& findings, Page& page);

}  // namespace ohmdrag::report

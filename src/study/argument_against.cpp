#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "ohmdrag/quantity/print.hpp"
#include "study/sensitivity_section.hpp"

namespace ohmdrag::study {
namespace {

std::string per_cent(double share) { return print_number(100.0 * share, 2) + " %"; }

std::string flip_in_words(const Flip& flip) {
  std::string text;
  for (const ChangedInput& input : flip.inputs)
    text += fmt::format("{}{} at {} instead of {}", text.empty() ? "" : ", ", input.name, input.to,
                        input.from);
  return text;
}

/// The requirement of the chosen variant that most draws miss.
const RequirementRow* least_met(const VariantFindings& chosen) {
  const RequirementRow* least = nullptr;
  for (const RequirementRow& row : chosen.requirements)
    if (!row.not_applicable && (!least || row.probability < least->probability)) least = &row;
  return least;
}

/// Less rating life by dirtier oil, or a path for circulating current that nobody has ruled out.
const HarmRow* first_harm(const VariantFindings& chosen) {
  const auto found = std::ranges::find_if(chosen.harm, [](const HarmRow& row) {
    return (row.what == "oil" && row.figure && row.figure->high < 1.0) ||
           row.what == "circulating-current";
  });
  return found == chosen.harm.end() ? nullptr : &*found;
}

}  // namespace

std::string argument_against(const Findings& findings) {
  const Trade& trade = *findings.trade;
  const SensitivityFindings& found = *findings.sensitivity;
  const std::string& answer = trade.chosen;
  const std::string name = answer.empty() ? "no variant" : answer;
  const auto chosen = std::ranges::find(findings.variants, answer, &VariantFindings::id);
  const bool displaces = chosen != findings.variants.end() && answer != findings.baseline;

  if (displaces && trade.probability_best < 0.5) {
    double nobody = 1.0;
    for (const ExchangeRow& row : trade.exchange) nobody -= row.probability_best;
    return fmt::format(
        "{} is the best answer in only {} of the draws; in {} of them no variant "
        "both meets all requirements and helps.",
        name, per_cent(trade.probability_best), per_cent(std::max(nobody, 0.0)));
  }
  if (found.dial.size() > 1) {
    const DialStep& first = found.dial[1];
    if (first.why.empty() && first.chosen != answer)
      return fmt::format(
          "It does not survive the first turn of the evidence dial: with the {} "
          "numbers weaker than {} at their full range the answer is {}.",
          first.opened, first.kept, first.chosen.empty() ? "no variant" : first.chosen);
  }
  const std::optional<Flip>& flip = found.stress.nearest;
  if (found.stress.middle_differs)
    return fmt::format("With every input at its middle the choice would be {}, not {}.",
                       found.stress.at_middle.empty() ? "no variant" : found.stress.at_middle,
                       name);
  const auto overturned = [&] {
    return fmt::format("{} standard uncertainties overturn it: with {} the choice is {}.",
                       print_number(flip->distance, 2), flip_in_words(*flip),
                       flip->becomes.empty() ? "no variant" : flip->becomes);
  };
  if (flip && flip->distance < 1.0) return "Only " + overturned();
  if (displaces) {
    const RequirementRow* least = least_met(*chosen);
    if (least && least->probability < 0.95)
      return fmt::format("{} misses {} in {} of the draws.", name, least->id,
                         per_cent(1.0 - least->probability));
    if (const HarmRow* harm = first_harm(*chosen))
      return fmt::format(
          "{} does harm of its own ({}{}): {}", name, harm->what,
          harm->figure ? ", " + print_interval(*harm->figure) + ' ' + harm->unit : std::string(),
          harm->text);
  }
  // Where nothing displaces the present design its watts are no argument, only what it might gain.
  const double of_watts = displaces ? findings.assumed_share : 0.0;
  const bool benefit = findings.assumed_share_of_benefit > of_watts;
  const double assumed = std::max(of_watts, findings.assumed_share_of_benefit);
  if (assumed > 0.5)
    return fmt::format(
        "{} of the variance of {} rests on numbers that are assumed, unverified or "
        "a single claim.",
        per_cent(assumed), benefit ? findings.headline_of_benefit : findings.headline);
  if (flip) return overturned();
  return fmt::format("Nothing above rung {} may be claimed; the next one needs {}.",
                     trade.claim.rung, trade.claim.missing);
}

}  // namespace ohmdrag::study

#include <fmt/format.h>

#include <algorithm>

#include "study/edition_figures.hpp"

namespace ohmdrag::study {
namespace {

constexpr auto hidden = "sealed";

bool is_key_of(const std::vector<UncertainNumber>& sealed, const std::string& key) {
  return std::ranges::find(sealed, key, &UncertainNumber::key) != sealed.end();
}

void replace(std::string& text, const std::string& old, const std::string& now) {
  for (std::size_t at = text.find(old); at != std::string::npos; at = text.find(old, at))
    text.replace(at, old.size(), now);
}

/// A sealed input of a flip, in the flip and in the sentences about it.
void seal(ChangedInput& input, std::vector<std::string*>& sentences) {
  for (std::string* text : sentences) {
    replace(*text, fmt::format("{} {} → {}", input.name, input.from, input.to),
            input.name + " elsewhere (sealed)");
    replace(*text, fmt::format("{} at {} instead of {}", input.name, input.to, input.from),
            input.name + " elsewhere (sealed)");
  }
  input.from = input.to = hidden;
}

}  // namespace

void take_out_moved_inputs(const std::vector<UncertainNumber>& sealed,
                           SensitivityFindings& findings) {
  for (OpenedNumber& number : findings.opened)
    if (is_key_of(sealed, number.name)) number.stated = number.range = hidden;
  std::vector<std::string*> sentences{&findings.argument_against};
  for (std::string& sentence : findings.stress.sentences) sentences.push_back(&sentence);
  std::vector<Flip*> flips;
  if (findings.stress.nearest) flips.push_back(&*findings.stress.nearest);
  for (Flip& flip : findings.stress.single) flips.push_back(&flip);
  for (Flip* flip : flips)
    for (ChangedInput& input : flip->inputs)
      if (is_key_of(sealed, input.name)) seal(input, sentences);
}

void for_each_text(SensitivityFindings& findings, const std::function<void(std::string&)>& visit) {
  for (FigureMoves& row : findings.figures) visit(row.remark);
  for (DialStep& row : findings.dial) {
    visit(row.verdict);
    visit(row.why);
  }
  for (OpenedNumber& row : findings.opened)
    for (std::string* text : {&row.stated, &row.range, &row.how}) visit(*text);
  visit(findings.dial_sentence);
  const auto flip = [&](Flip& one) {
    visit(one.because);
    for (ChangedInput& input : one.inputs) {
      visit(input.from);
      visit(input.to);
    }
  };
  if (findings.stress.nearest) flip(*findings.stress.nearest);
  for (Flip& one : findings.stress.single) flip(one);
  visit(findings.stress.remark);
  for (std::string& sentence : findings.stress.sentences) visit(sentence);
  visit(findings.argument_against);
}

}  // namespace ohmdrag::study

#include "ohmdrag/study/other_editions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <optional>

#include "ohmdrag/study/edition.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/ask_words.hpp"
#include "study/edition_figures.hpp"

namespace ohmdrag::study {
namespace {

/// Texts of one edition.
class Words {
 public:
  Words(Share reader, const Case& question)
      : reader_(reader), sealed_(sealed_numbers(question, reader)) {}

  bool nothing_sealed() const { return sealed_.empty(); }
  const UncertainNumber* find(const std::string& key) const {
    const auto found = std::ranges::find(sealed_, key, &UncertainNumber::key);
    return found == sealed_.end() ? nullptr : &*found;
  }
  void clear(std::string& text) const { text = without_sealed(std::move(text), sealed_); }
  void clear(std::vector<std::string>& texts) const {
    for (std::string& text : texts) clear(text);
  }
  std::string caution() const {
    return fmt::format(
        "Edition for {} readers: {} values are sealed. Each shows its basis, its rank and a band, "
        "not its value.",
        to_word(reader_), sealed_.size());
  }
  const std::vector<UncertainNumber>& sealed() const { return sealed_; }

 private:
  Share reader_;
  std::vector<UncertainNumber> sealed_;
};

std::string sealed_with(const std::string& band) {
  return band.empty() ? "sealed" : "sealed, " + band;
}

/// One key is the other, or lies in it.
bool touch(const std::string& a, const std::string& b) {
  return a == b || a.starts_with(b + '.') || b.starts_with(a + '.');
}

void seal(const UncertainNumber& number, const std::string& chosen, OpenQuestion& question) {
  question.value = sealed_with(band_in_words(number));
  question.unit.clear();  // the band has it
  question.source.clear();
  for (KnownAt& at : question.known) at.value = std::numeric_limits<double>::quiet_NaN();
  question.text = question_text(question);
  question.consequence = question_consequence(question, chosen);
}

}  // namespace

void refuse_to_size_sealed(Share reader, const Case& question, const SizingQuestion& what) {
  const auto variant = std::ranges::find(question.variants, what.variant, &Variant::id);
  if (variant == question.variants.end()) return;  // size_element says so
  const std::vector<UncertainNumber> sealed = sealed_numbers(question, reader);
  const SealedContact contact = what.part == SizedPart::seal
                                    ? sealed_of_seal(*variant, sealed)
                                    : sealed_of_grounding(*variant, sealed);
  if (contact.force || contact.resistance)
    throw Sealed(
        fmt::format("size shows force and resistance of the {} of {} row by row, and a number of "
                    "it is sealed for {} readers; for the own house leave --for out",
                    what.part == SizedPart::seal ? "seal" : "grounding element", what.variant,
                    to_word(reader)));
  for (const Requirement& asked : question.requirements)
    for (const auto& limit : {asked.max, asked.min})
      if (limit && is_sealed_for(reader, limit->share))
        throw Sealed(fmt::format(
            "{} is sealed for {} readers, and the window of size ends where the limit is met; for "
            "the own house leave --for out",
            limit->key, to_word(reader)));
}

SizingFindings sizing_for(Share reader, const Case& question, SizingFindings findings) {
  const Words words(reader, question);
  if (words.nothing_sealed()) return findings;
  words.clear(findings.title);
  words.clear(findings.verdict);
  for (SizingLimit& limit : findings.limits) words.clear(limit.what);
  words.clear(findings.remarks);
  words.clear(findings.cautions);
  findings.cautions.push_back(words.caution());
  return findings;
}

AskFindings questions_for(Share reader, const Case& question, AskFindings findings) {
  const Words words(reader, question);
  if (words.nothing_sealed()) return findings;
  words.clear(findings.title);
  for (OpenQuestion& open : findings.questions) {
    if (const UncertainNumber* number = words.find(open.key)) seal(*number, findings.chosen, open);
    for (std::string* text : {&open.source, &open.text, &open.where, &open.consequence})
      words.clear(*text);
  }
  words.clear(findings.cautions);
  findings.cautions.push_back(words.caution());
  return findings;
}

Comparison comparison_for(Share reader, const Case& before, const Case& after,
                          Comparison comparison) {
  const Words first(reader, before), second(reader, after);
  const auto clear = [&](auto& text) {
    first.clear(text);
    second.clear(text);
  };
  std::size_t hidden = 0;
  for (InputChange& change : comparison.changes) {
    const UncertainNumber* old = first.find(change.key);
    const UncertainNumber* now = second.find(change.key);
    if (!old && !now && !is_sealed_for(reader, change.share)) {
      for (std::optional<std::string>* text : {&change.before, &change.after})
        if (*text) clear(**text);
      continue;
    }
    ++hidden;
    if (change.before) change.before = sealed_with(old ? band_in_words(*old) : "");
    if (change.after) change.after = sealed_with(now ? band_in_words(*now) : "");
  }
  if (hidden == 0 && first.nothing_sealed() && second.nothing_sealed()) return comparison;
  for (ComparedSide* side : {&comparison.before, &comparison.after}) {
    clear(side->title);
    for (std::string& set : side->sets) {
      set = change_for(set, first.sealed());
      set = change_for(set, second.sealed());
      for (const InputChange& change : comparison.changes)
        if (is_sealed_for(reader, change.share) && touch(key_of_set(set), change.key))
          set = key_of_set(set) + "=[sealed]";
    }
  }
  for (FigureMove& move : comparison.moves) clear(move.remark);
  clear(comparison.differences);
  clear(comparison.cautions);
  comparison.cautions.push_back(
      fmt::format("Edition for {} readers: {} values before and {} after are sealed. A change of "
                  "one shows its basis and a band, not its value.",
                  to_word(reader), first.sealed().size(), second.sealed().size()));
  return comparison;
}

void refuse_to_sweep_sealed(Share reader, const Case& question, const Design& design) {
  for (const UncertainNumber& number : sealed_numbers(question, reader))
    for (const DesignAxis& axis : design.axes)
      if (touch(axis.key, number.key))
        throw Sealed(fmt::format(
            "{} is sealed for {} readers, and a sweep shows the values of its axes in every row; "
            "for the own house leave --for out",
            number.key, to_word(reader)));
}

Headlines headlines_for(Share reader, const Case& question, Headlines headlines) {
  const Words words(reader, question);
  if (words.nothing_sealed()) return headlines;
  for (VariantHeadlines& variant : headlines.variants) {
    words.clear(variant.verdict);
    for (HeadlineFigure& figure : variant.figures) words.clear(figure.why);
  }
  words.clear(headlines.cautions);
  headlines.cautions.push_back(words.caution());
  return headlines;
}

}  // namespace ohmdrag::study

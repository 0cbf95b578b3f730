#include "study/explain_chain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <stdexcept>

#include "ohmdrag/study/visit.hpp"
#include "study/explain_worked.hpp"

namespace ohmdrag::study {

std::string symbol_of(std::string_view id) {
  std::string symbol;
  for (const char c : id) symbol += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '_';
  return symbol;
}

Chain::Chain(const Case& question) {
  for_each_number(question, [&](const UncertainNumber& number) {
    if (number.key.empty()) return;
    origins_.try_emplace(number.key,
                         fmt::format("{}{}{}, {}", to_word(number.basis),
                                     number.source.empty() ? "" : ": ", number.source, number.key));
  });
}

std::string Chain::known(const std::vector<std::string>& keys) const {
  for (const std::string& key : keys)
    if (origins_.contains(key)) return key;
  return {};
}

std::string Chain::add(ExplainLine line) {
  const auto same = std::ranges::find(lines_, line.symbol, &ExplainLine::symbol);
  std::string symbol = line.symbol;
  if (same == lines_.end())
    lines_.push_back(std::move(line));
  else if (same->value != line.value)
    throw std::logic_error("explain: " + symbol + " would stand for two values");
  return symbol;
}

std::string Chain::given(std::string symbol, double value, std::string unit, std::string meaning,
                         const std::vector<std::string>& keys) {
  const std::string key = known(keys);
  const std::string source = !key.empty()   ? origins_.at(key)
                             : keys.empty() ? std::string("the case")
                                            : keys.back();
  return add({ExplainLine::Kind::given,
              std::move(symbol),
              std::move(meaning),
              {},
              value,
              std::move(unit),
              {},
              source,
              key});
}

std::string Chain::taken(std::string symbol, double value, std::string unit, std::string meaning,
                         std::string source) {
  return add({ExplainLine::Kind::taken,
              std::move(symbol),
              std::move(meaning),
              {},
              value,
              std::move(unit),
              {},
              std::move(source)});
}

std::string Chain::solved(std::string symbol, double value, std::string unit, std::string meaning,
                          std::string source) {
  return add({ExplainLine::Kind::solved,
              std::move(symbol),
              std::move(meaning),
              {},
              value,
              std::move(unit),
              {},
              std::move(source)});
}

std::string Chain::step(std::string symbol, std::string expression, double value, std::string unit,
                        std::string meaning, std::string source, std::string validity) {
  return add({ExplainLine::Kind::step, std::move(symbol), std::move(meaning), std::move(expression),
              value, std::move(unit), std::move(validity), std::move(source)});
}

std::string Chain::worked(std::string symbol, std::string expression, std::string unit,
                          std::string meaning, std::string source, std::string validity) {
  const double found =
      study::worked(expression, [this](std::string_view name) { return value(std::string(name)); });
  return step(std::move(symbol), std::move(expression), found, std::move(unit), std::move(meaning),
              std::move(source), std::move(validity));
}

std::string Chain::sum(std::string symbol, const std::vector<std::string>& terms, double value,
                       std::string unit, std::string meaning) {
  std::string expression;
  for (const std::string& term : terms) expression += (expression.empty() ? "" : " + ") + term;
  return step(std::move(symbol), expression.empty() ? "0" : expression, value, std::move(unit),
              std::move(meaning), "sum");
}

double Chain::value(const std::string& symbol) const {
  const auto found = std::ranges::find(lines_, symbol, &ExplainLine::symbol);
  if (found == lines_.end()) throw std::logic_error("explain: no line " + symbol);
  return found->value;
}

}  // namespace ohmdrag::study

#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/study/explain.hpp"

namespace ohmdrag::study {

/// A chain under construction, for one case.
class Chain {
 public:
  explicit Chain(const Case& question);

  // Each adds a line and gives its symbol back. A symbol that is there already with the same value
  // is not added again.
  std::string given(std::string symbol, double value, std::string unit, std::string meaning,
                    const std::vector<std::string>& keys);
  std::string taken(std::string symbol, double value, std::string unit, std::string meaning,
                    std::string source);
  std::string solved(std::string symbol, double value, std::string unit, std::string meaning,
                     std::string source);
  std::string step(std::string symbol, std::string expression, double value, std::string unit,
                   std::string meaning, std::string source, std::string validity = {});
  /// A step whose value is worked out here, from the lines above.
  std::string worked(std::string symbol, std::string expression, std::string unit,
                     std::string meaning, std::string source, std::string validity = {});
  /// symbol = a + b + …, or its only term.
  std::string sum(std::string symbol, const std::vector<std::string>& terms, double value,
                  std::string unit, std::string meaning);

  /// The value of a line.
  double value(const std::string& symbol) const;
  std::vector<ExplainLine> lines() && { return std::move(lines_); }

 private:
  std::string add(ExplainLine line);
  /// The first of the keys that the case has; empty: none.
  std::string known(const std::vector<std::string>& keys) const;

  std::map<std::string, std::string> origins_;  ///< basis, source and key, by key
  std::vector<ExplainLine> lines_;
};

/// Letters, digits and _ out of an id.
std::string symbol_of(std::string_view id);

}  // namespace ohmdrag::study

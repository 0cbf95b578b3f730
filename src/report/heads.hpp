#pragma once

#include <string>

namespace ohmdrag::report {

/// A key of the result document for people: "own_W" is { "own", "W" }.
struct Head {
  std::string words;
  std::string unit;  ///< empty: a share, a ratio, a word
};
Head head_of(const std::string& key);

}  // namespace ohmdrag::report

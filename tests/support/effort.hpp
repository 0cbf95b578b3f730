#pragma once

#include <cstdlib>
#include <string_view>

namespace ohmdrag::test {

/// How often a random test repeats: `usual` in every run, twenty times that in `./run check`.
inline int effort(int usual) {
  const char* fuzz = std::getenv("OHMDRAG_FUZZ");
  return fuzz != nullptr && std::string_view(fuzz) == "long" ? 20 * usual : usual;
}

}  // namespace ohmdrag::test

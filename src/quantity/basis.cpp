#include "ohmdrag/quantity/basis.hpp"

namespace ohmdrag {

static_assert(basis_words.size() == static_cast<std::size_t>(Basis::assumed) + 1);

std::string_view to_word(Basis basis) { return basis_words.at(static_cast<std::size_t>(basis)); }

std::optional<Basis> basis_from_word(std::string_view word) {
  for (std::size_t i = 0; i < basis_words.size(); ++i)
    if (basis_words[i] == word) return static_cast<Basis>(i);
  return std::nullopt;
}

}  // namespace ohmdrag

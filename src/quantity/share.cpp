#include "ohmdrag/quantity/share.hpp"

namespace ohmdrag {

static_assert(share_words.size() == static_cast<std::size_t>(Share::internal) + 1);

std::string_view to_word(Share share) { return share_words.at(static_cast<std::size_t>(share)); }

std::optional<Share> share_from_word(std::string_view word) {
  for (std::size_t i = 0; i < share_words.size(); ++i)
    if (share_words[i] == word) return static_cast<Share>(i);
  return std::nullopt;
}

}  // namespace ohmdrag

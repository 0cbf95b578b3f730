#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace ohmdrag {

/// Who may read a number, the most open first.
enum class Share {
  open,      ///< everybody
  customer,  ///< whom the report is written for; a number of a case that says nothing
  internal,  ///< the own house
};

inline constexpr std::array share_words{std::string_view{"open"}, std::string_view{"customer"},
                                        std::string_view{"internal"}};

std::string_view to_word(Share share);
/// The level a word names, or nothing.
std::optional<Share> share_from_word(std::string_view word);
/// True where a report for `reader` must not show the value.
constexpr bool is_sealed_for(Share reader, Share value) { return value > reader; }

}  // namespace ohmdrag

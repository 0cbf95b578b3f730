#include "report/text.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

#include <fmt/format.h>

namespace ohmdrag::report {
namespace {

constexpr char32_t replacement = 0xFFFD;

struct Range {
  char32_t first, last;
};

template <std::size_t n>
bool in_any(const std::array<Range, n>& ranges, char32_t c) {
  return std::any_of(ranges.begin(), ranges.end(),
                     [c](Range r) { return c >= r.first && c <= r.last; });
}

// Unicode Standard 15.0, code charts: C1 controls, direction marks and isolates, separators.
constexpr std::array obeyed{Range{0x00, 0x1F},     Range{0x7F, 0x9F},      Range{0x200E, 0x200F},
                            Range{0x2028, 0x202E}, Range{0x2060, 0x206F},  Range{0xFEFF, 0xFEFF},
                            Range{0xFFF9, 0xFFFB}, Range{0xE0000, 0xE007F}};

// Unicode Standard 15.0, code charts: combining marks, zero-width joiners, variation selectors.
constexpr std::array no_columns{Range{0x0300, 0x036F}, Range{0x0483, 0x0489}, Range{0x0591, 0x05BD},
                                Range{0x0610, 0x061A}, Range{0x064B, 0x065F}, Range{0x1AB0, 0x1AFF},
                                Range{0x1DC0, 0x1DFF}, Range{0x200B, 0x200D}, Range{0x20D0, 0x20FF},
                                Range{0xFE00, 0xFE0F}, Range{0xFE20, 0xFE2F}};

// Unicode Standard Annex 11, East Asian Width: the blocks of W and F.
constexpr std::array two_columns{
    Range{0x1100, 0x115F},   Range{0x2E80, 0x303E},   Range{0x3041, 0xA4CF},
    Range{0xAC00, 0xD7A3},   Range{0xF900, 0xFAFF},   Range{0xFE30, 0xFE6F},
    Range{0xFF00, 0xFF60},   Range{0xFFE0, 0xFFE6},   Range{0x1F300, 0x1F64F},
    Range{0x1F680, 0x1F6FF}, Range{0x1F900, 0x1F9FF}, Range{0x20000, 0x3FFFD}};

struct Decoded {
  char32_t code = replacement;
  std::size_t bytes = 1;
};

/// One code point from the front of the text; U+FFFD and one byte where it is not UTF-8.
Decoded decoded(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[i]); };
  const std::uint8_t lead = byte(0);
  if (lead < 0x80) return {lead, 1};
  const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < bytes) return {};
  char32_t code = lead & (0x7FU >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return {};
    code = (code << 6U) | (byte(i) & 0x3FU);
  }
  const bool overlong = (bytes == 3 && code < 0x800) || (bytes == 4 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (overlong || surrogate || code > 0x10FFFF) return {};
  return {code, bytes};
}

/// \uXXXX, as a surrogate pair above the basic plane (RFC 8259, section 7).
std::string escape(char32_t code) {
  if (code < 0x10000) return fmt::format("\\u{:04x}", static_cast<std::uint32_t>(code));
  const std::uint32_t rest = static_cast<std::uint32_t>(code) - 0x10000U;
  return fmt::format("\\u{:04x}\\u{:04x}", 0xD800U + (rest >> 10U), 0xDC00U + (rest & 0x3FFU));
}

std::size_t columns(char32_t code) {
  if (in_any(no_columns, code)) return 0;
  return in_any(two_columns, code) ? 2 : 1;
}

/// Bytes of the beginning that fits: all of it, or up to a joint (. - _ / , :), or what there is.
std::size_t fitting(std::string_view word, std::size_t width) {
  std::size_t bytes = 0;
  std::size_t used = 0;
  std::size_t joint = 0;
  while (bytes < word.size()) {
    const Decoded next = decoded(word.substr(bytes));
    used += columns(next.code);
    if (used > width) return joint > 0 ? joint : bytes;
    bytes += next.bytes;
    if (next.code < 0x80 &&
        std::string_view(".-_/,:").find(static_cast<char>(next.code)) != std::string_view::npos)
      joint = bytes;
  }
  return bytes;
}

}  // namespace

std::string harmless(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    if (text.starts_with("\r\n")) text.remove_prefix(1);  // one line end, not two
    const Decoded next = decoded(text);
    if (next.code == '\n' || next.code == '\t')
      out += ' ';
    else if (next.code == replacement || in_any(obeyed, next.code))
      out += "\uFFFD";
    else
      out += text.substr(0, next.bytes);
    text.remove_prefix(next.bytes);
  }
  return out;
}

std::string escaped_for_terminal(std::string_view json) {
  std::string out;
  out.reserve(json.size());
  while (!json.empty()) {
    const Decoded next = decoded(json);
    // The serializer has escaped C0 in strings; what is left of it are the line ends between keys.
    if (next.code == '\n' || !in_any(obeyed, next.code))
      out += json.substr(0, next.bytes);
    else
      out += escape(next.code);
    json.remove_prefix(next.bytes);
  }
  return out;
}

std::size_t display_width(std::string_view text) {
  std::size_t width = 0;
  while (!text.empty()) {
    const Decoded next = decoded(text);
    width += columns(next.code);
    text.remove_prefix(next.bytes);
  }
  return width;
}

std::string elided(std::string_view text, std::size_t width) {
  // A pile of combining marks takes no columns: the bytes are bounded as well.
  const std::size_t most_bytes = 8 * width;
  if (text.size() <= most_bytes && display_width(text) <= width) return std::string(text);
  std::string out;
  std::size_t used = 0;
  while (!text.empty()) {
    const Decoded next = decoded(text);
    const std::size_t more = columns(next.code);
    if (used + more + 1 > width || out.size() + next.bytes > most_bytes) break;
    out += text.substr(0, next.bytes);
    used += more;
    text.remove_prefix(next.bytes);
  }
  return out + "…";
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  width = std::max<std::size_t>(width, 2);  // room for one wide character
  std::vector<std::string> lines(1);
  std::size_t used = 0;
  const auto new_line = [&] {
    lines.emplace_back();
    used = 0;
  };
  while (!text.empty()) {
    const std::size_t blank = text.find(' ');
    std::string_view word = text.substr(0, blank);
    text.remove_prefix(blank == std::string_view::npos ? text.size() : blank + 1);
    if (word.empty()) continue;
    const std::size_t needed = display_width(word);
    if (used > 0 && used + 1 + needed > width) new_line();
    if (used > 0) {
      lines.back() += ' ';
      ++used;
    }
    while (!word.empty()) {
      const std::size_t part = fitting(word, width - used);
      lines.back() += word.substr(0, part);
      used += display_width(word.substr(0, part));
      word.remove_prefix(part);
      if (!word.empty()) new_line();
    }
  }
  return lines;
}

std::string padded_right(std::string_view text, std::size_t width) {
  const std::size_t used = display_width(text);
  return std::string(text) + std::string(used < width ? width - used : 0, ' ');
}

std::string padded_left(std::string_view text, std::size_t width) {
  const std::size_t used = display_width(text);
  return std::string(used < width ? width - used : 0, ' ') + std::string(text);
}

bool is_number(std::string_view text) {
  if (!text.empty() && (text.front() == '-' || text.front() == '+')) text.remove_prefix(1);
  return !text.empty() && text.front() >= '0' && text.front() <= '9' &&
         text.find_first_not_of("0123456789.e+-") == std::string_view::npos;
}

}  // namespace ohmdrag::report

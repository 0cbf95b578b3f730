#include "quantity/text_scan.hpp"

#include <algorithm>
#include <array>
#include <initializer_list>
#include <numeric>
#include <utility>

#include "ohmdrag/quantity/dimension.hpp"

namespace ohmdrag::text_scan {
namespace {

/// The length of the first of these spellings that the text starts with, or 0.
std::size_t length_at(std::string_view text, std::initializer_list<std::string_view> spellings) {
  for (const std::string_view s : spellings)
    if (text.starts_with(s)) return s.size();
  return 0;
}

/// × x * before the stroke, ÷ : after it.
std::size_t factor_sign_at(std::string_view text) {
  const std::size_t times = length_at(text, {"×", "x", "*"});
  if (times == 0 || !text.substr(times).starts_with('/')) return 0;
  const std::size_t over = length_at(text.substr(times + 1), {"÷", ":"});
  return over == 0 ? 0 : times + 1 + over;
}

/// Levenshtein distance.
std::size_t edits_between(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = std::exchange(row[0], i + 1);
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t change = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({row[j] + 1, row[j + 1] + 1, change});
    }
  }
  return row.back();
}

}  // namespace

Limited split_limits(std::string_view text) {
  constexpr std::string_view word = "within";
  const std::size_t at = text.find(word);
  if (at == std::string_view::npos) return {text, {}};
  return {text.substr(0, at), text.substr(at + word.size())};
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string simplified(std::string_view text) {
  constexpr std::array<std::pair<std::string_view, char>, 4> signs{
      {{"\u00a0", ' '}, {"\u2009", ' '}, {"\u202f", ' '}, {"\u2212", '-'}}};
  std::string out;
  while (!text.empty()) {
    const auto sign =
        std::ranges::find_if(signs, [&](const auto& s) { return text.starts_with(s.first); });
    out += sign == signs.end() ? text.front() : sign->second;
    text.remove_prefix(sign == signs.end() ? 1 : sign->first.size());
  }
  return out;
}

Parts split(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::string_view rest = text.substr(i);
    const auto parts = [&](Sign sign, std::size_t length) {
      return Parts{sign, trimmed(text.substr(0, i)), trimmed(rest.substr(length))};
    };
    if (const std::size_t n = length_at(rest, {"±", "+/-", "+-"}))
      return parts(Sign::plus_minus, n);
    if (const std::size_t n = length_at(rest, {"…", "...", ".."})) return parts(Sign::range, n);
    if (const std::size_t n = factor_sign_at(rest)) return parts(Sign::factor, n);
  }
  return {Sign::none, trimmed(text), {}};
}

std::string quoted(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::string out(text.substr(0, longest));
  if (text.size() > longest) {
    // Not in the middle of a UTF-8 sequence.
    while (!out.empty() && (out.back() & '\xc0') == '\x80') out.pop_back();
    if (!out.empty() && (out.back() & '\x80') != 0) out.pop_back();
    out += "…";
  }
  for (char& c : out)
    if ((c >= 0 && c < ' ') || c == '\x7f') c = '?';
  return '"' + out + '"';
}

std::string without_signs(std::string_view unit) {
  std::string out;
  for (const char c : unit)
    if (c != '*' && c != '(' && c != ')')
      out += c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  return out;
}

std::string_view nearest_unit(std::string_view typed, Dimension expected) {
  constexpr std::size_t longest = 24;
  const std::string wanted = without_signs(canonical_unit(typed));
  if (wanted.empty() || wanted.size() > longest) return {};
  std::string_view best;
  std::pair<std::size_t, std::size_t> best_score{std::max<std::size_t>(1, wanted.size() / 3), 99};
  for (const UnitSpelling& unit : row_of(expected).units) {
    const std::string known = without_signs(unit.text);
    if (known == "deg" + wanted) return unit.text;
    if (known.front() != wanted.front()) continue;
    const std::size_t longer = std::max(known.size(), wanted.size());
    const std::pair score{edits_between(wanted, known),
                          longer - std::min(known.size(), wanted.size())};
    if (score < best_score) {
      best = unit.text;
      best_score = score;
    }
  }
  return best;
}

}  // namespace ohmdrag::text_scan

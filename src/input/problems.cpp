#include "input/problems.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

namespace ohmdrag::input {

namespace {

/// More than anybody reads at once; a file full of nonsense must not take for ever either.
constexpr std::size_t most = 200;

std::size_t code_points(std::string_view utf8) {
  return static_cast<std::size_t>(
      std::ranges::count_if(utf8, [](char c) { return (c & 0xC0) != 0x80; }));
}

/// Blanks as wide as what stands before the column; tabs stay tabs, so that the caret lines up.
std::string indent(std::string_view line, std::size_t column) {
  std::string blanks;
  std::size_t point = 0;
  for (const char c : line) {
    if ((c & 0xC0) == 0x80) continue;
    if (++point >= column) break;
    blanks += c == '\t' ? '\t' : ' ';
  }
  if (column > point + 1) blanks.append(column - point - 1, ' ');
  return blanks;
}

std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({replaced, row[j] + 1, row[j + 1] + 1});
    }
  }
  return row[b.size()];
}

/// Control characters of a hostile file must not reach a terminal: those of ASCII, and U+0080 to
/// U+009F, which some terminals obey as well.
std::string printable(std::string text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0U;
    if ((byte < 0x20 && byte != '\t') || byte == 0x7F) {
      out += '?';
    } else if (byte == 0xC2 && next >= 0x80 && next <= 0x9F) {
      out += '?';
      ++i;
    } else {
      out += text[i];
    }
  }
  return out;
}

}  // namespace

std::string in_words(const Problem& p) {
  std::string out = printable(p.file);
  if (p.line > 0) out += fmt::format(":{}:{}", p.line, p.column);
  out += ": error: ";
  if (!p.key.empty()) out += p.key + ": ";
  out += p.what;
  if (!p.excerpt.empty()) {
    const std::string number = p.line > 0 ? fmt::format("{}", p.line) : std::string{};
    const std::string margin(number.size(), ' ');
    const std::size_t room = code_points(p.excerpt) + 1;
    const std::size_t width =
        std::max<std::size_t>(1, std::min(p.width, room > p.column ? room - p.column : 1));
    out += fmt::format("\n  {} | {}\n  {} | {}^{}", number, p.excerpt, margin,
                       indent(p.excerpt, p.column), std::string(width - 1, '~'));
  }
  if (!p.hint.empty()) out += "\n  hint: " + p.hint;
  return out;
}

InputError::InputError(std::vector<Problem> found) : problems(std::move(found)) {
  std::ranges::stable_sort(problems, {},
                           [](const Problem& p) { return std::tie(p.file, p.line, p.column); });
  for (const Problem& p : problems) {
    if (!text_.empty()) text_ += '\n';
    text_ += in_words(p);
  }
}

namespace {

Problem problem_at(const Place& where, std::string key, std::string what, std::string hint) {
  Problem p;
  p.key = printable(std::move(key));
  p.what = printable(std::move(what));
  p.hint = printable(std::move(hint));
  if (where.text) {
    p.file = where.text->name;
    p.line = where.text->numbered ? where.line : 0;
    p.column = where.column;
    p.width = where.width;
    if (where.line >= 1 && where.line <= where.text->lines.size()) {
      // A line of a megabyte is no help; its start is.
      constexpr std::size_t longest = 400;
      std::string line = where.text->lines[where.line - 1];
      if (line.size() > longest) {
        std::size_t cut = longest;
        while (cut > 0 && (line[cut] & 0xC0) == 0x80) --cut;
        line.resize(cut);
      }
      // Beyond its start the caret would point at nothing.
      if (p.column <= code_points(line) + 1) p.excerpt = printable(std::move(line));
    }
  }
  return p;
}

}  // namespace

void Problems::add(const Place& where, std::string key, std::string what, std::string hint) {
  keep(problem_at(where, std::move(key), std::move(what), std::move(hint)));
}

void Problems::add_unknown_key(const Place& where, std::string key, std::string what,
                               std::string hint) {
  Problem p = problem_at(where, std::move(key), std::move(what), std::move(hint));
  p.unknown_key = true;
  keep(std::move(p));
}

void Problems::add_for_file(std::string file, std::string what, std::string hint) {
  Problem p;
  p.file = std::move(file);
  p.what = printable(std::move(what));
  p.hint = printable(std::move(hint));
  keep(std::move(p));
}

void Problems::keep(Problem problem) {
  const auto same = [&](const Problem& other) {
    return std::tie(other.file, other.line, other.column, other.key, other.what) ==
           std::tie(problem.file, problem.line, problem.column, problem.key, problem.what);
  };
  if (std::ranges::any_of(found_, same)) return;
  if (found_.size() < most)
    found_.push_back(std::move(problem));
  else
    more_ = true;
}

void Problems::throw_if_any() {
  if (std::exchange(more_, false)) {
    Problem note;
    note.file = found_.front().file;
    note.what = fmt::format("more than {} problems; the first of them follow", most);
    found_.push_back(std::move(note));
  }
  if (!found_.empty()) throw InputError(std::exchange(found_, {}));
}

std::string nearest(std::string_view typed, std::span<const std::string> known) {
  std::string best;
  std::size_t fewest = std::max<std::size_t>(2, typed.size() / 3) + 1;
  for (const std::string& name : known) {
    const std::size_t changes = distance(typed, name);
    if (changes < fewest) {
      fewest = changes;
      best = name;
    }
  }
  return best;
}

std::string suggestion(std::string_view typed, std::span<const std::string> known) {
  if (const std::string near = nearest(typed, known); !near.empty())
    return fmt::format("did you mean {}?", near);
  constexpr std::size_t few = 12;
  if (!known.empty() && known.size() <= few)
    return fmt::format("known here: {}", fmt::join(known, ", "));
  return {};
}

}  // namespace ohmdrag::input

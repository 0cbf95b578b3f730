#include "report/table.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

constexpr std::size_t gap = 2;                  // blanks between columns
constexpr std::size_t widest_fixed_cell = 48;   // a figure with its interval needs about 30
constexpr std::size_t most_words = 2000;        // of a wrapped cell, in columns
constexpr std::size_t narrowest_words = 12;     // below that a sentence becomes a pole
constexpr std::size_t longest_whole_word = 24;  // names of keys are broken above that

/// A column ready to print: its widths and the slot in which the numbers line up.
struct Layout {
  Column column;
  std::vector<Cell> cells;
  std::size_t number_slot = 0;
  bool has_tail = false;
  std::size_t width = 0;
  std::size_t narrowest = 0;  // a flexible column
};

bool stands_in_slot(const Cell& cell) { return !cell.tail.empty() || is_number(cell.text); }

std::size_t longest_word(std::string_view text) {
  std::size_t longest = 0;
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    longest = std::max(longest, display_width(text.substr(0, blank)));
    text.remove_prefix(std::min(blank + 1, text.size()));
  }
  return longest;
}

Layout laid_out(const Table& table, std::size_t index) {
  Layout out{.column = table.columns[index], .cells = {}};
  const std::size_t most = out.column.flexible ? most_words : widest_fixed_cell;
  const auto clean = [&](const std::string& text) { return elided(harmless(text), most); };
  out.column.head = clean(out.column.head);
  out.column.unit = clean(out.column.unit);
  std::size_t tail_slot = 0;
  std::size_t plain = 0;
  std::size_t word = 0;
  for (const auto& row : table.rows) {
    const Cell cell{clean(row[index].text), clean(row[index].tail)};
    const std::size_t text = display_width(cell.text);
    if (stands_in_slot(cell)) out.number_slot = std::max(out.number_slot, text);
    if (!cell.tail.empty()) tail_slot = std::max(tail_slot, 1 + display_width(cell.tail));
    plain = std::max(plain, text);
    word = std::max(word, longest_word(cell.text));
    out.cells.push_back(cell);
  }
  out.has_tail = tail_slot > 0;
  out.width = std::max({plain, out.number_slot + tail_slot, longest_word(out.column.head),
                        display_width(out.column.unit)});
  out.narrowest = std::max({narrowest_words, std::min(word, longest_whole_word),
                            longest_word(out.column.head), display_width(out.column.unit)});
  return out;
}

std::size_t total_width(const std::vector<Layout>& columns) {
  std::size_t sum = columns.empty() ? 0 : gap * (columns.size() - 1);
  for (const Layout& c : columns) sum += c.width;
  return sum;
}

/// Takes the missing columns from the wordy ones, the widest first.
void shrink(std::vector<Layout>& columns, std::size_t page) {
  std::size_t excess = total_width(columns) > page ? total_width(columns) - page : 0;
  while (excess > 0) {
    Layout* widest = nullptr;
    for (Layout& c : columns)
      if (c.column.flexible && c.width > c.narrowest && (!widest || c.width > widest->width))
        widest = &c;
    if (!widest) return;
    --widest->width;
    --excess;
  }
}

std::string aligned(const Layout& layout, const Cell& cell, const std::string& line) {
  if (stands_in_slot(cell) && layout.has_tail) {
    const std::string number = padded_left(cell.text, layout.number_slot);
    return padded_right(cell.tail.empty() ? number : number + ' ' + cell.tail, layout.width);
  }
  return layout.column.align == Align::right && !layout.has_tail ? padded_left(line, layout.width)
                                                                 : padded_right(line, layout.width);
}

std::string head_line(const Layout& layout, const std::string& text) {
  return layout.column.align == Align::right && !layout.has_tail ? padded_left(text, layout.width)
                                                                 : padded_right(text, layout.width);
}

std::string joined(const std::vector<std::string>& parts) {
  std::string out;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) out.append(gap, ' ');
    out += parts[i];
  }
  return out;
}

std::string block(const std::vector<Layout>& columns, const TerminalOptions& options) {
  std::vector<std::vector<std::string>> heads;
  std::size_t head_lines = 0;
  bool any_unit = false;
  for (const Layout& c : columns) {
    heads.push_back(wrapped(c.column.head, c.width));
    head_lines = std::max(head_lines, heads.back().size());
    any_unit = any_unit || !c.column.unit.empty();
  }
  std::string out;
  for (std::size_t line = 0; line < head_lines; ++line) {
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const std::size_t above = head_lines - heads[i].size();  // heads stand on the rule
      parts.push_back(head_line(columns[i], line < above ? "" : heads[i][line - above]));
    }
    out += bold(joined(parts), options) + '\n';
  }
  if (any_unit) {
    std::vector<std::string> parts;
    for (const Layout& c : columns) parts.push_back(head_line(c, c.column.unit));
    out += joined(parts) + '\n';
  }
  for (std::size_t i = 0; i < total_width(columns); ++i) out += "─";
  out += '\n';
  for (std::size_t row = 0; row < columns.front().cells.size(); ++row) {
    std::vector<std::vector<std::string>> lines;
    std::size_t height = 1;
    for (const Layout& c : columns) {
      lines.push_back(c.column.flexible ? wrapped(c.cells[row].text, c.width)
                                        : std::vector{c.cells[row].text});
      height = std::max(height, lines.back().size());
    }
    for (std::size_t line = 0; line < height; ++line) {
      std::vector<std::string> parts;
      for (std::size_t i = 0; i < columns.size(); ++i)
        parts.push_back(
            line < lines[i].size()
                ? aligned(columns[i], line == 0 ? columns[i].cells[row] : Cell{}, lines[i][line])
                : std::string(columns[i].width, ' '));
      out += joined(parts) + '\n';
    }
  }
  return out;
}

std::vector<Layout> laid_out(const Table& table) {
  std::vector<Layout> out;
  for (std::size_t i = 0; i < table.columns.size(); ++i) out.push_back(laid_out(table, i));
  return out;
}

bool empty_column(const Table& table, std::size_t index) {
  return std::all_of(table.rows.begin(), table.rows.end(), [&](const std::vector<Cell>& row) {
    return row[index].text.empty() && row[index].tail.empty();
  });
}

using Part = std::vector<std::size_t>;

/// The columns in parts of at most the page's width, each beginning with the keys.
std::vector<Part> parts_of(const std::vector<Layout>& columns, std::size_t keys, std::size_t page) {
  Part key(keys);
  std::iota(key.begin(), key.end(), 0U);
  std::size_t key_width = 0;
  for (std::size_t i = 0; i < keys; ++i) key_width += columns[i].width + gap;
  std::vector<Part> out{key};
  std::size_t used = key_width;
  for (std::size_t i = keys; i < columns.size(); ++i) {
    if (out.back().size() > keys && used + columns[i].width > page) {
      out.push_back(key);
      used = key_width;
    }
    out.back().push_back(i);
    used += columns[i].width + gap;
  }
  return out;
}

std::string split(const std::vector<Layout>& columns, std::size_t keys, std::size_t page,
                  const TerminalOptions& options) {
  std::vector<Part> parts = parts_of(columns, keys, page);
  // As few parts as the page allows, then as even as these parts can be.
  for (std::size_t narrower = page; narrower > 1; --narrower) {
    std::vector<Part> even = parts_of(columns, keys, narrower - 1);
    if (even.size() != parts.size()) break;
    parts = std::move(even);
  }
  std::string out;
  for (const Part& part : parts) {
    std::vector<Layout> shown;
    for (const std::size_t i : part) shown.push_back(columns[i]);
    if (!out.empty()) out += '\n';
    out += block(shown, options);
  }
  return out;
}

}  // namespace

Table without_empty_columns(const Table& table) {
  Table out{.columns = {}, .rows = {}, .turn = table.turn, .keys = table.keys};
  out.rows.resize(table.rows.size());
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    if (!table.rows.empty() && empty_column(table, i)) {
      if (i < table.keys) --out.keys;
      continue;
    }
    out.columns.push_back(table.columns[i]);
    for (std::size_t r = 0; r < table.rows.size(); ++r) out.rows[r].push_back(table.rows[r][i]);
  }
  return out;
}

Table turned(const Table& table) {
  Table out{.columns = {}, .rows = {}, .keys = 2};
  out.columns = {{table.columns.front().head, "", Align::left}, {"unit", "", Align::left}};
  for (const auto& row : table.rows) out.columns.push_back({row.front().text, "", Align::left});
  for (std::size_t i = 1; i < table.columns.size(); ++i) {
    std::vector<Cell> row{{table.columns[i].head, {}}, {table.columns[i].unit, {}}};
    for (const auto& old : table.rows) row.push_back(old[i]);
    out.rows.push_back(std::move(row));
  }
  return without_empty_columns(out);
}

std::string printed(const Table& table, const TerminalOptions& options) {
  for (const auto& row : table.rows)
    if (row.size() != table.columns.size())
      throw std::invalid_argument("table: a row has " + std::to_string(row.size()) +
                                  " cells under " + std::to_string(table.columns.size()) +
                                  " heads");
  const Table full = without_empty_columns(table);
  if (full.columns.empty()) return {};
  const auto page = static_cast<std::size_t>(std::max(options.width, 1));

  std::vector<Layout> columns = laid_out(full);
  shrink(columns, page);
  const bool wide = total_width(columns) > page;
  const bool turn = full.turn == Turn::always || (full.turn == Turn::if_wide && wide);
  if (!turn || full.rows.empty())
    return wide ? split(columns, full.keys, page, options) : block(columns, options);

  const Table other = turned(full);
  columns = laid_out(other);
  return total_width(columns) > page ? split(columns, other.keys, page, options)
                                     : block(columns, options);
}

std::string Footnotes::mark(const std::string& text) {
  const auto [place, is_new] = numbers_.try_emplace(text, texts_.size() + 1);
  if (is_new) texts_.push_back(text);
  return '[' + std::to_string(place->second) + ']';
}

std::string numbered(const std::vector<std::string>& notes, const TerminalOptions& options) {
  std::string out;
  for (std::size_t i = 0; i < notes.size(); ++i)
    out += paragraph(notes[i], options, '[' + std::to_string(i + 1) + "] ");
  return out;
}

std::string paragraph(std::string_view text, const TerminalOptions& options,
                      std::string_view lead) {
  const std::size_t indent = display_width(lead);
  const auto page = static_cast<std::size_t>(std::max(options.width, 1));
  const std::size_t room = page > indent ? page - indent : 1;
  std::string out;
  bool first = true;
  for (const std::string& line : wrapped(harmless(text), room)) {
    out += (first ? std::string(lead) : std::string(indent, ' ')) + line + '\n';
    first = false;
  }
  return out;
}

std::string bold(std::string_view text, const TerminalOptions& options) {
  return options.colour ? "\x1b[1m" + std::string(text) + "\x1b[0m" : std::string(text);
}

}  // namespace ohmdrag::report

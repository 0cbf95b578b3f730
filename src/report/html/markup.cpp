#include "report/html/markup.hpp"

#include <algorithm>

#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

constexpr std::size_t longest_heading = 240;  // the case that is carried inside has the whole of it
constexpr std::size_t most_columns = 7;       // side by side on a sheet of A4

bool has_content(const Table& table, std::size_t column) {
  return std::ranges::any_of(table.rows, [column](const auto& row) {
    return !row[column].text.empty() || !row[column].tail.empty();
  });
}

std::string with_unit(const Column& column) {
  std::string out = "<span>" + escaped(column.head) + "</span>";
  if (!column.unit.empty()) out += " <span class=unit>" + escaped(column.unit) + "</span>";
  return out;
}

std::string class_of(const Column& column) {
  if (column.align == Align::right) return " class=n";
  return column.flexible ? " class=w" : "";
}

/// A cell or a row ends where the next begins: HTML lets its end tags out, and a page of many
/// thousand cells is a tenth smaller.
std::string upright(const Table& table, const std::vector<std::size_t>& shown) {
  std::string out = "<thead><tr>";
  for (const std::size_t c : shown)
    out += "<th scope=col" + class_of(table.columns[c]) + '>' + with_unit(table.columns[c]);
  out += "</thead>\n<tbody>\n";
  for (const auto& row : table.rows) {
    out += "<tr>";
    for (const std::size_t c : shown) {
      const bool key = c < table.keys;
      const std::string tag = key ? "th" : "td";
      out +=
          '<' + tag + (key ? " scope=row" : "") + class_of(table.columns[c]) + '>' + markup(row[c]);
    }
    out += '\n';
  }
  return out + "</tbody>";
}

/// The first column becomes the heads, every other column a row.
std::string turned(const Table& table, const std::vector<std::size_t>& shown) {
  std::string out = "<thead><tr><th scope=col>" + with_unit(table.columns[shown.front()]);
  for (const auto& row : table.rows) out += "<th scope=col class=n>" + markup(row[shown.front()]);
  out += "</thead>\n<tbody>\n";
  for (auto c = shown.begin() + 1; c != shown.end(); ++c) {
    out += "<tr><th scope=row>" + with_unit(table.columns[*c]);
    for (const auto& row : table.rows)
      out += "<td" + class_of(table.columns[*c]) + '>' + markup(row[*c]);
    out += '\n';
  }
  return out + "</tbody>";
}

/// Collects what belongs between one pair of tags: items of a list, lines of a grid.
class Run {
 public:
  Run(std::string& out, std::string open, std::string close)
      : out_(out), open_(std::move(open)), close_(std::move(close)) {}
  void add(const std::string& piece) {
    if (!running_) out_ += open_;
    running_ = true;
    out_ += piece;
  }
  void end() {
    if (running_) out_ += close_;
    running_ = false;
  }

 private:
  std::string& out_;
  std::string open_, close_;
  bool running_ = false;
};

}  // namespace

void append_markup_free(char c, std::string& out) {
  if (c == '&')
    out += "&amp;";
  else if (c == '<')
    out += "&lt;";
  else if (c == '>')
    out += "&gt;";
  else
    out += c;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : harmless(text)) {
    if (c == '"')
      out += "&quot;";
    else if (c == '\'')
      out += "&#39;";
    else
      append_markup_free(c, out);
  }
  return out;
}

std::string escaped_heading(std::string_view text) {
  return escaped(elided(harmless(text), longest_heading));
}

namespace {

/// The dotted key of a number, or any long word, may break behind a point or an underscore.
std::string breakable(const std::string& word) {
  constexpr std::size_t long_word = 20;
  if (word.size() < long_word || word.find(' ') != std::string::npos) return escaped(word);
  std::string out;
  std::size_t begin = 0;
  for (std::size_t i = 0; i < word.size(); ++i)
    if (word[i] == '.' || word[i] == '_') {
      out += escaped(std::string_view(word).substr(begin, i + 1 - begin)) + "<wbr>";
      begin = i + 1;
    }
  return out + escaped(std::string_view(word).substr(begin));
}

}  // namespace

std::string markup(const Cell& cell) {
  std::string out = breakable(cell.text);
  if (!cell.tail.empty()) out += " <span class=ends>" + escaped(cell.tail) + "</span>";
  return out;
}

std::string markup(const Table& table, std::string_view caption) {
  if (table.rows.empty()) return {};
  std::vector<std::size_t> shown;
  for (std::size_t c = 0; c < table.columns.size(); ++c)
    if (has_content(table, c)) shown.push_back(c);
  if (shown.empty()) return {};
  const bool turn =
      table.keys == 1 &&
      (table.turn == Turn::always || (table.turn == Turn::if_wide && shown.size() > most_columns));
  const std::string name = escaped_heading(caption);
  return "<div class=scroll tabindex=0 role=region aria-label=\"" + name +
         "\"><table><caption class=unseen>" + name + "</caption>\n" +
         (turn ? turned(table, shown) : upright(table, shown)) + "</table></div>\n";
}

std::string markup(const std::vector<Block>& blocks) {
  std::string out;
  std::string last_words;  // what a table is about
  Run list(out, "<ul>\n", "</ul>\n");
  Run grid(out, "<pre class=grid tabindex=0>", "</pre>\n");
  for (const Block& block : blocks) {
    const bool item = block.kind == Block::Kind::words && block.lead.starts_with("· ");
    if (!item) list.end();
    if (block.kind != Block::Kind::line) grid.end();
    switch (block.kind) {
      case Block::Kind::title:
      case Block::Kind::heading:
        out += "<h3>" + escaped_heading(block.text) + "</h3>\n";
        last_words = block.text;
        break;
      case Block::Kind::words: {
        const std::string lead =
            item ? block.lead.substr(std::string_view("· ").size()) : block.lead;
        const std::string text =
            (lead.empty() ? "" : "<b>" + escaped(lead) + "</b>") + escaped(block.text);
        if (item)
          list.add("<li>" + text + "</li>\n");
        else
          out += "<p>" + text + "</p>\n";
        break;
      }
      case Block::Kind::table:
        out += markup(block.rows, last_words);
        break;
      case Block::Kind::notes:
        for (std::size_t i = 0; i < block.notes.size(); ++i)
          out +=
              "<p class=note>[" + std::to_string(i + 1) + "] " + escaped(block.notes[i]) + "</p>\n";
        break;
      case Block::Kind::line:
        grid.add(escaped(block.text) + '\n');
        break;
      case Block::Kind::space:
        break;
    }
  }
  list.end();
  grid.end();
  return out;
}

}  // namespace ohmdrag::report

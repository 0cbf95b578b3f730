#include "report/page.hpp"

#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

constexpr int digits = 4;            // of a figure without interval
constexpr int most_title_lines = 4;  // the JSON document has the whole of it

}  // namespace

Cell figure(const Interval& value, double scale) {
  const std::string text =
      print_interval(Interval{scale * value.low, scale * value.mid, scale * value.high});
  const std::size_t bracket = text.find(" (");
  if (bracket == std::string::npos) return {text, {}};
  return {text.substr(0, bracket), text.substr(bracket + 1)};
}

Cell figure(const std::optional<Interval>& value, double scale) {
  return value ? figure(*value, scale) : words(std::string(nothing));
}

Cell figure(double value) { return {print_number(value, digits), {}}; }

Cell figure(const std::optional<double>& value) {
  return value ? figure(*value) : words(std::string(nothing));
}

Cell marks(const std::vector<study::Flag>& flags, Footnotes& notes) {
  std::string out, kept;
  for (const study::Flag& flag : flags) {
    if (flag.kept_limit)
      kept += (kept.empty() ? "within its limits: " : "; ") + flag.text;
    else
      out += notes.mark(flag.text);
  }
  if (!kept.empty()) out += notes.mark(kept);
  return {out, {}};
}

Cell words(std::string text) { return {std::move(text), {}}; }

void Page::title(std::string_view text) {
  blocks_.push_back({.kind = Block::Kind::title, .text = std::string(text)});
}

void Page::heading(std::string_view text) {
  blocks_.push_back({.kind = Block::Kind::heading, .text = std::string(text)});
}

void Page::say(std::string_view text, std::string_view lead) {
  if (!text.empty())
    blocks_.push_back(
        {.kind = Block::Kind::words, .text = std::string(text), .lead = std::string(lead)});
}

void Page::table(const Table& table) {
  blocks_.push_back({.kind = Block::Kind::table, .rows = table});
}

void Page::line(std::string_view text) {
  blocks_.push_back({.kind = Block::Kind::line, .text = std::string(text)});
}

void Page::notes(const Footnotes& notes) {
  blocks_.push_back({.kind = Block::Kind::notes, .notes = notes.texts()});
}

void Page::space() { blocks_.push_back({}); }

std::string Page::text() const {
  std::string out;
  const auto width = static_cast<std::size_t>(std::max(options_.width, 1));
  const auto space = [&] {
    if (!out.empty() && !out.ends_with("\n\n")) out += '\n';
  };
  const auto emphasized = [&](const std::string& text) {
    for (const std::string& line :
         wrapped(elided(harmless(text), (width - 1) * most_title_lines), width))
      out += bold(line, options_) + '\n';
  };
  for (const Block& block : blocks_) {
    switch (block.kind) {
      case Block::Kind::title:
        emphasized(block.text);
        for (int i = 0; i < options_.width; ++i) out += "═";
        out += '\n';
        break;
      case Block::Kind::heading:
        space();
        emphasized(block.text);
        break;
      case Block::Kind::words:
        out += paragraph(block.text, options_, block.lead);
        break;
      case Block::Kind::table:
        out += printed(block.rows, options_);
        break;
      case Block::Kind::notes:
        out += numbered(block.notes, options_);
        break;
      case Block::Kind::line:
        out += elided(harmless(block.text), width) + '\n';
        break;
      case Block::Kind::space:
        space();
        break;
    }
  }
  return out;
}

}  // namespace ohmdrag::report

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

void Page::space() {
  if (!text_.empty() && !text_.ends_with("\n\n")) text_ += '\n';
}

void Page::emphasized(std::string_view text) {
  const auto width = static_cast<std::size_t>(std::max(options_.width, 1));
  for (const std::string& line :
       wrapped(elided(harmless(text), (width - 1) * most_title_lines), width))
    text_ += bold(line, options_) + '\n';
}

void Page::title(std::string_view text) {
  emphasized(text);
  for (int i = 0; i < options_.width; ++i) text_ += "═";
  text_ += '\n';
}

void Page::heading(std::string_view text) {
  space();
  emphasized(text);
}

void Page::say(std::string_view text, std::string_view lead) {
  if (!text.empty()) text_ += paragraph(text, options_, lead);
}

void Page::line(std::string_view text) {
  text_ += elided(harmless(text), static_cast<std::size_t>(std::max(options_.width, 1))) + '\n';
}

void Page::table(const Table& table) { text_ += printed(table, options_); }

void Page::notes(const Footnotes& notes) { text_ += notes.printed(options_); }

}  // namespace ohmdrag::report

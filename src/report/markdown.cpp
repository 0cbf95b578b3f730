#include "ohmdrag/report/markdown.hpp"

#include <fmt/format.h>

#include <string_view>

#include "report/markdown_text.hpp"
#include "report/sections.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

constexpr const char* fence = "```\n";  // around lines that are laid out already

/// A paragraph: "· " begins a point of a list, any other lead stands in bold letters.
std::string words_of(const Block& block) {
  if (block.lead == "· " || block.lead == "- ") return "- " + markdown_text(block.text) + '\n';
  if (block.lead.starts_with("· "))
    return fmt::format("- **{}** {}\n", markdown_text(block.lead.substr(3)),
                       markdown_text(block.text));
  if (block.lead.empty()) return markdown_line(block.text) + '\n';
  const std::size_t end = block.lead.find_last_not_of(' ');
  return fmt::format("**{}** {}\n", markdown_text(block.lead.substr(0, end + 1)),
                     markdown_text(block.text));
}

bool is_point(const Block& block) {
  return block.kind == Block::Kind::words &&
         (block.lead.starts_with("· ") || block.lead.starts_with("- "));
}

std::string notes_of(const Block& block) {
  std::string out;
  for (std::size_t i = 0; i < block.notes.size(); ++i)
    out += fmt::format("- \\[{}\\] {}\n", i + 1, markdown_text(block.notes[i]));
  return out;
}

std::string one(const Block& block) {
  switch (block.kind) {
    case Block::Kind::title:
      return "# " + markdown_text(block.text) + '\n';
    case Block::Kind::heading:
      return "## " + markdown_text(block.text) + '\n';
    case Block::Kind::words:
      return words_of(block);
    case Block::Kind::table:
      return markdown_table(block.rows);
    case Block::Kind::notes:
      return notes_of(block);
    case Block::Kind::line:  // as it stands, beside others of its kind
      return harmless(block.text) + '\n';
    case Block::Kind::space:
      break;
  }
  return {};
}

/// Lines of a grid and points of a list stay together.
bool stay_together(const Block& a, const Block& b) {
  return (a.kind == Block::Kind::line && b.kind == Block::Kind::line) ||
         (is_point(a) && is_point(b));
}

std::string folded_register(const study::Findings& findings) {
  if (findings.assumptions.empty()) return {};
  return fmt::format(
      "\n## Register of all numbers\n\n<details>\n<summary>All {} numbers, those that move most "
      "first</summary>\n\n{}\n</details>\n",
      findings.assumptions.size(),
      markdown_table(register_table(findings, findings.assumptions.size())));
}

std::string how_to_repeat(const study::Findings& findings) {
  std::string out = fmt::format(
      "\n## To repeat it\n\n- program version {}, seed {}, {} draws\n- {}, SHA-256 {}\n",
      markdown_text(findings.version), findings.seed, findings.samples,
      markdown_text(findings.file), markdown_text(findings.sha256));
  if (!findings.sealed_sha256.empty())
    out += "- what is sealed, SHA-256 " + findings.sealed_sha256 + '\n';
  for (const auto& [file, sha256] : findings.includes)
    out += fmt::format("- {}, SHA-256 {}\n", markdown_text(file), markdown_text(sha256));
  return out;
}

}  // namespace

std::string markdown(const study::Findings& findings) {
  constexpr int columns_of_a_grid = 100;
  const Page page = whole_page(findings, {columns_of_a_grid, false});
  std::string out;
  const Block* last = nullptr;
  const auto is_line = [](const Block* block) { return block && block->kind == Block::Kind::line; };
  for (const Block& block : page.blocks()) {
    const std::string text = one(block);
    if (text.empty()) continue;
    if (is_line(last) && !is_line(&block)) out += fence;
    if (last && !stay_together(*last, block)) out += '\n';
    if (is_line(&block) && !is_line(last)) out += fence;
    out += text;
    last = &block;
  }
  if (is_line(last)) out += fence;
  return out + folded_register(findings) + how_to_repeat(findings);
}

}  // namespace ohmdrag::report

#include <algorithm>

#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

/// "shaft-groove" as words.
std::string in_words(std::string code) {
  std::ranges::replace(code, '-', ' ');
  return code;
}

}  // namespace

void print_harm(const study::Findings& findings, Page& page) {
  for (const study::VariantFindings& variant : findings.variants) {
    if (variant.harm.empty()) continue;
    page.heading("What else " + variant.id + " does, against " + findings.baseline);
    Table table{.columns = {{"what", "", Align::left},
                            {"figure"},
                            {"unit", "", Align::left},
                            {"in words", "", Align::left, true},
                            {"basis", "", Align::left}},
                .rows = {}};
    for (const study::HarmRow& row : variant.harm)
      table.rows.push_back({words(in_words(row.what)), row.figure ? figure(*row.figure) : Cell{},
                            words(row.figure ? row.unit : ""), words(row.text),
                            words(std::string(to_word(row.basis)))});
    page.table(table);
  }
}

}  // namespace ohmdrag::report

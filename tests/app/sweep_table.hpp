#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <string>
#include <vector>

#include "program.hpp"

/// What `ohmdrag sweep` wrote, as a reader of CSV sees it.
namespace ohmdrag::test {

struct SweepTable {
  std::vector<std::string> comments;
  std::vector<std::string> heads;
  std::vector<std::vector<std::string>> lines;

  std::size_t column(const std::string& head) const {
    const auto found = std::ranges::find(heads, head);
    CAPTURE(head, heads);
    REQUIRE(found != heads.end());
    return static_cast<std::size_t>(found - heads.begin());
  }
  const std::string& cell(std::size_t line, const std::string& head) const {
    return lines.at(line).at(column(head));
  }
  double number(std::size_t line, const std::string& head) const {
    const std::string& text = cell(line, head);
    CAPTURE(line, head, text);
    char* end = nullptr;
    const double value = std::strtod(text.c_str(), &end);
    REQUIRE((end != text.c_str() && *end == '\0'));
    return value;
  }
};

/// Cells of a line after RFC 4180, which may stand in quotes.
inline std::vector<std::string> csv_cells(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i] == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"')
      cells.back() += line[++i];
    else if (line[i] == '"')
      quoted = !quoted;
    else if (line[i] == ',' && !quoted)
      cells.emplace_back();
    else
      cells.back() += line[i];
  }
  REQUIRE(!quoted);
  return cells;
}

/// Every line has a cell under every head, and the rows are 1, 2, 3 …
inline SweepTable sweep_table(const std::string& text) {
  SweepTable table;
  CAPTURE(text.substr(0, 2000));
  REQUIRE(text.ends_with('\n'));
  std::size_t row = 0;
  for (const std::string& line : lines_of(text)) {
    if (line.starts_with('#')) {
      REQUIRE(table.heads.empty());
      table.comments.push_back(line);
    } else if (table.heads.empty()) {
      table.heads = csv_cells(line);
    } else {
      table.lines.push_back(csv_cells(line));
      CAPTURE(line);
      REQUIRE(table.lines.back().size() == table.heads.size());
      const std::size_t here = std::stoul(table.lines.back().front());
      REQUIRE((here == row || here == row + 1));
      row = here;
    }
  }
  REQUIRE(!table.heads.empty());
  return table;
}

/// The starter of one lip on one shaft: a case of a millisecond.
inline std::string tiny_case() { return ohmdrag({"new", "single-contact"}).out; }

/// Two keys of that case.
inline const std::string force = "variant.lip.seal.line_force";
inline const std::string diameter = "shaft.rotor.diameter";

inline Ran swept(const std::string& file, Arguments more) {
  Arguments arguments{"sweep", file};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return ohmdrag(arguments);
}

inline SweepTable table_of(const std::string& file, const Arguments& more) {
  const Ran ran = swept(file, more);
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  return sweep_table(ran.out);
}

inline void check_refused(const Ran& ran, const std::string& why) {
  CAPTURE(ran.err);
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Catch::Matchers::Contains(why));
}

}  // namespace ohmdrag::test

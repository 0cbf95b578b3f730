#include "report/table.hpp"

#include <catch2/catch.hpp>
#include <set>
#include <sstream>

#include "report/text.hpp"

using namespace ohmdrag::report;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

/// Widths of the lines, one set for each block between blank lines.
std::vector<std::set<std::size_t>> widths_of(const std::string& text) {
  std::vector<std::set<std::size_t>> out(1);
  for (const std::string& line : lines_of(text))
    if (line.empty())
      out.emplace_back();
    else
      out.back().insert(display_width(line));
  return out;
}

Table sample(std::size_t rows, std::size_t columns) {
  Table table{.columns = {{"component", "", Align::left}}, .rows = {}};
  for (std::size_t c = 0; c < columns; ++c)
    table.columns.push_back({"net power " + std::to_string(c), "W"});
  for (std::size_t r = 0; r < rows; ++r) {
    std::vector<Cell> cells{{"part-" + std::to_string(r), {}}};
    for (std::size_t c = 0; c < columns; ++c)
      cells.push_back({std::to_string(r * 100 + c) + ".25", c % 2 ? "(1.5 … 2000.75)" : ""});
    table.rows.push_back(cells);
  }
  return table;
}

}  // namespace

TEST_CASE("a narrow table keeps its shape", "[derived]") {
  const Table table{.columns = {{"part", "", Align::left}, {"own power", "W"}, {"margin", "W"}},
                    .rows = {{{"seal", {}}, {"19", "(13 … 26)"}, {"-0.7", {}}},
                             {{"ring", {}}, {"4.5", "(3.4 … 5.6)"}, {"12", {}}}}};
  CHECK(printed(table, {.width = 60}) ==
        "part  own power        margin\n"
        "      W                     W\n"
        "─────────────────────────────\n"
        "seal   19 (13 … 26)      -0.7\n"
        "ring  4.5 (3.4 … 5.6)      12\n");
}

TEST_CASE("all lines of a table have one width, within the page", "[derived]") {
  const int width = GENERATE(60, 80, 100, 140);
  const Turn turn = GENERATE(Turn::never, Turn::if_wide, Turn::always);
  const std::size_t rows = GENERATE(1, 4, 12);
  const std::size_t columns = GENERATE(1, 5, 17);
  Table table = sample(rows, columns);
  table.turn = turn;
  CAPTURE(width, rows, columns, static_cast<int>(turn));
  for (const auto& block : widths_of(printed(table, {.width = width}))) {
    CHECK(block.size() == 1);
    CHECK(*block.begin() <= static_cast<std::size_t>(width));
  }
}

TEST_CASE("no figure is lost or broken when a table is turned or split", "[derived]") {
  const Turn turn = GENERATE(Turn::never, Turn::if_wide, Turn::always);
  Table table = sample(5, 17);
  table.turn = turn;
  const std::string text = printed(table, {.width = 80});
  for (const auto& row : table.rows)
    for (std::size_t c = 1; c < row.size(); ++c)
      CHECK(text.find(row[c].text + (row[c].tail.empty() ? "" : ' ' + row[c].tail)) !=
            std::string::npos);
}

TEST_CASE("words give way to figures", "[derived]") {
  const std::string prose = "a sentence with many words that needs more room than there is left";
  const Table table{
      .columns = {{"name", "", Align::left}, {"value"}, {"source", "", Align::left, true}},
      .rows = {{{"film", {}}, {"0.31", "(0.21 … 0.41)"}, {prose, {}}}}};
  const std::string text = printed(table, {.width = 50});
  const auto blocks = widths_of(text);
  REQUIRE(blocks.size() == 1);
  CHECK(*blocks.front().rbegin() == 50);
  CHECK(text.find("0.31 (0.21 … 0.41)") != std::string::npos);
}

TEST_CASE("wide characters and hostile cells keep the columns straight", "[derived]") {
  const Table table{.columns = {{"name", "", Align::left}, {"value"}},
                    .rows = {{{"軸受🔧", {}}, {"1", {}}},
                             {{"\x1b[2J\nnext", {}}, {"2", {}}},
                             {{std::string(10000, 'x'), {}}, {"3", {}}}}};
  const std::string text = printed(table, {.width = 100});
  CHECK(widths_of(text).front().size() == 1);
  CHECK(text.find('\x1b') == std::string::npos);
}

TEST_CASE("a column without content is left out", "[derived]") {
  Table table = sample(2, 2);
  for (auto& row : table.rows) row[1] = {};
  CHECK(printed(table, {.width = 100}).find("power 0") == std::string::npos);
  CHECK_FALSE(printed(Table{.columns = {{"head"}}, .rows = {}}, {.width = 100}).empty());
  CHECK(printed(Table{}, {.width = 100}).empty());
}

TEST_CASE("a ragged table is refused", "[derived]") {
  Table table = sample(2, 2);
  table.rows.back().pop_back();
  CHECK_THROWS_AS(printed(table, {.width = 100}), std::invalid_argument);
}

TEST_CASE("equal remarks share a mark", "[derived]") {
  Footnotes notes;
  CHECK(notes.mark("first") == "[1]");
  CHECK(notes.mark("second") == "[2]");
  CHECK(notes.mark("first") == "[1]");
  CHECK(numbered(notes.texts(), {.width = 100}) == "[1] first\n[2] second\n");
}

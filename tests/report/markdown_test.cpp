#include "ohmdrag/report/markdown.hpp"

#include <catch2/catch.hpp>

#include "report/markdown_text.hpp"
#include "sample_findings.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using report::Align;
using report::Table;

// CommonMark 0.30, section 2.4: a backslash before ASCII punctuation gives the character.
TEST_CASE("marks of Markdown become text", "[derived]") {
  CHECK(report::markdown_text("a*b_c`d") == "a\\*b\\_c\\`d");
  CHECK(report::markdown_text("<script>") == "\\<script\\>");
  CHECK(report::markdown_text("[x](y)") == "\\[x\\](y)");
  CHECK(report::markdown_text("a | b") == "a \\| b");
  CHECK(report::markdown_text("&amp; ~~x~~") == "\\&amp; \\~\\~x\\~\\~");
  CHECK(report::markdown_text("http://a.b") == "http\\://a.b");
  CHECK(report::markdown_text("www.a.b") == "www\\.a.b");
  CHECK(report::markdown_text("two\nlines") == "two lines");
  CHECK(report::markdown_text("12.5 Ω (3 … 30)") == "12.5 Ω (3 … 30)");
}

TEST_CASE("a line that would begin a list or underline a heading does not", "[derived]") {
  CHECK(report::markdown_line("1. one") == "1\\. one");
  CHECK(report::markdown_line("12) one") == "12\\) one");
  CHECK(report::markdown_line("- point") == "\\- point");
  CHECK(report::markdown_line("=== x") == "\\=== x");
  CHECK(report::markdown_line("    no code") == "no code");
  CHECK(report::markdown_line("12.5 W") == "12.5 W");
}

TEST_CASE("a table names its units in the heads", "[derived]") {
  const Table table{
      .columns = {{"part", "", Align::left}, {"own power", "W"}, {"ratio", "1"}},
      .rows = {{{"seal", {}}, {"19", "(13 … 26)"}, {"2", {}}}, {{"ring|x", {}}, {"4.5", {}}, {}}}};
  CHECK(report::markdown_table(table) ==
        "| part | own power, W | ratio |\n"
        "| --- | ---: | ---: |\n"
        "| seal | 19 (13 … 26) | 2 |\n"
        "| ring\\|x | 4.5 |  |\n");
}

TEST_CASE("the answer comes first and the register is folded", "[derived]") {
  const study::Findings f = sample("trade");
  const std::string text = report::markdown(f);
  CHECK(text.starts_with("# " + f.title + '\n'));
  const std::size_t answer = text.find("## Answer"), watts = text.find("## Watts at"),
                    numbers = text.find("<summary>All 2 numbers");
  CHECK(answer < text.find("## What it costs"));
  CHECK(answer < watts + numbers);
  REQUIRE(numbers != std::string::npos);
  CHECK(text.find("discharge.breakdown\\_field", numbers) != std::string::npos);
  CHECK(text.find(f.sha256) != std::string::npos);
}

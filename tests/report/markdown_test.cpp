#include "ohmdrag/report/markdown.hpp"

#include <catch2/catch.hpp>

#include "ohmdrag/report/terminal.hpp"
#include "report/first_screen.hpp"
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

TEST_CASE("the first screen says the same in every format, in one order", "[derived]") {
  const study::Findings f = sample("trade");
  const report::Subject subject = report::subject(f);
  std::vector<std::string> parts{report::chosen_in_words(*f.trade), f.trade->reason,
                                 report::rung_in_words(f.trade->claim), f.trade->claim.sentence,
                                 report::numbers_of_whom(subject)};
  const auto numbers = report::three_numbers(subject);
  REQUIRE(numbers.size() == 3);
  for (const report::ScreenNumber& number : numbers) parts.push_back(number.what);
  const auto doubts = report::three_doubts(f);
  REQUIRE(!doubts.empty());
  parts.push_back(report::doubts_heading(doubts.size()));
  for (const report::ScreenDoubt& doubt : doubts) parts.push_back(doubt.text);
  parts.push_back(f.sensitivity->argument_against);

  constexpr int wide = 10'000;  // no line is broken
  const std::string screen = report::terminal(f, {wide, false});
  const std::string text = report::markdown(f);
  std::size_t on_screen = 0, in_text = 0;
  for (const std::string& part : parts) {
    CAPTURE(part);
    on_screen = screen.find(part, on_screen);
    in_text = text.find(report::markdown_text(part), in_text);
    CHECK(on_screen != std::string::npos);
    CHECK(in_text != std::string::npos);
  }
  const std::string figure = numbers[0].what + ": " + numbers[0].value.text + ' ' +
                             numbers[0].unit + ' ' + numbers[0].value.tail;
  CHECK(text.find(report::markdown_text(figure)) < text.find("## What it costs"));
}

#include "report/text.hpp"

#include <catch2/catch.hpp>
#include <random>

using namespace ohmdrag::report;

TEST_CASE("what a terminal could obey is made harmless", "[derived]") {
  struct Row {
    std::string read, shown;
  };
  // derived: ECMA-48 control functions and the Unicode direction marks, one of each kind
  const auto row = GENERATE(Row{"\x1b[2J", "\uFFFD[2J"},    // erase, 7-bit introducer
                            Row{"\u009B31m", "\uFFFD31m"},  // 8-bit introducer
                            Row{"a\r\nb\tc", "a b c"},      // line end and tab
                            Row{"a\rb", "a\uFFFDb"},        // back to the line's begin
                            Row{"bell\a\b\x7f", "bell\uFFFD\uFFFD\uFFFD"},
                            Row{"\u202Eabc", "\uFFFDabc"},              // right-to-left override
                            Row{"\xff\xc3", "\uFFFD\uFFFD"},            // not UTF-8
                            Row{"\xc0\xaf", "\uFFFD\uFFFD"},            // overlong
                            Row{"\xed\xa0\x80", "\uFFFD\uFFFD\uFFFD"},  // surrogate
                            Row{"Ω µ … 軸 🔧", "Ω µ … 軸 🔧"});
  CHECK(harmless(row.read) == row.shown);
  CHECK(harmless(row.shown) == row.shown);
}

TEST_CASE("columns of a terminal", "[derived]") {
  CHECK(display_width("") == 0);
  CHECK(display_width("12.3 µm") == 7);
  CHECK(display_width("軸") == 2);       // Unicode Standard Annex 11: W
  CHECK(display_width("🔧") == 2);        // Unicode Standard Annex 11: W
  CHECK(display_width("e\u0301") == 1);  // combining acute
  CHECK(padded_left("µ", 3) == "  µ");
  CHECK(padded_right("軸", 3) == "軸 ");
}

TEST_CASE("wrapping keeps every word and no line is too wide", "[derived]") {
  std::mt19937 random(7);
  std::uniform_int_distribution<std::size_t> length(1, 14), width(2, 40);
  for (int trial = 0; trial < 300; ++trial) {
    std::string text;
    for (int word = 0; word < 30; ++word)
      text +=
          (word > 0 ? " " : "") + std::string(length(random), static_cast<char>('a' + word % 26));
    const std::size_t most = width(random);
    std::string joined;
    for (const std::string& line : wrapped(text, most)) {
      CHECK(display_width(line) <= most);
      joined += line;
    }
    std::erase(text, ' ');
    std::erase(joined, ' ');
    CHECK(joined == text);
  }
}

TEST_CASE("a long name is broken at its joints", "[derived]") {
  using Lines = std::vector<std::string>;
  CHECK(wrapped("discharge.breakdown_field", 24) == Lines{"discharge.breakdown_", "field"});
  CHECK(wrapped("the abcdefghij", 4) == Lines{"the", "abcd", "efgh", "ij"});
  CHECK(wrapped("軸軸軸", 5) == Lines{"軸軸", "軸"});
  CHECK(wrapped("", 5) == Lines{""});
}

TEST_CASE("an elided text fits, whatever it is made of", "[derived]") {
  CHECK(elided("ring", 4) == "ring");
  CHECK(elided("rings", 4) == "rin…");
  CHECK(display_width(elided("軸軸軸軸", 4)) <= 4);
  std::string pile = "e";
  for (int i = 0; i < 10000; ++i) pile += "\u0301";
  CHECK(elided(pile, 20).size() < 200);
}

TEST_CASE("JSON is escaped where a terminal could obey it", "[derived]") {
  CHECK(escaped_for_terminal("\"\u009B\x7f\u202E\"\n") == "\"\\u009b\\u007f\\u202e\"\n");
  CHECK(escaped_for_terminal("\"\U000E0041\"") == "\"\\udb40\\udc41\"");  // RFC 8259, section 7
  CHECK(escaped_for_terminal("\"Ω 🔧\"") == "\"Ω 🔧\"");
}

TEST_CASE("numbers are told from words", "[derived]") {
  for (const char* number : {"0", "-4.2", "1.2e9", "47000"}) CHECK(is_number(number));
  for (const char* word : {"", "-", "n/a", "3 … 4", "> 4", "none", "4 kHz"})
    CHECK_FALSE(is_number(word));
}

#include <ctime>
#include <random>
#include <string>

#include "input/support.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;

namespace {

/// Reads or refuses; anything else would end the test.
void read(const std::string& text, std::vector<std::string> sets = {}) {
  try {
    input::case_from_text(text, "case.toml", test::options(std::move(sets)));
  } catch (const input::InputError& error) {
    CHECK_FALSE(error.problems.empty());
  }
}

}  // namespace

TEST_CASE("a damaged case is refused or read, never worse", "[derived]") {
  const std::string whole = test::file_text(test::here / "example_case.toml");
  const std::string text = whole.substr(whole.find("[study]"));
  std::mt19937 random{20};  // the same damage every time
  const std::string bytes = "\"[]{}=.,#\n 0x9-±…abc";
  for (int i = 0, times = test::effort(400); i < times; ++i) {
    std::string damaged = text;
    for (int hits = 0; hits < 3; ++hits) {
      const std::size_t at = random() % damaged.size();
      switch (random() % 3) {
        case 0:
          damaged[at] = bytes[random() % bytes.size()];
          break;
        case 1:
          damaged.erase(at, random() % 40);
          break;
        default:
          damaged.insert(at, 1, bytes[random() % bytes.size()]);
      }
    }
    CAPTURE(i);
    read(damaged);
  }
}

TEST_CASE("any kind of value anywhere is refused or read, never worse", "[derived]") {
  for (const char* key : {"study",
                          "study.title",
                          "study.seed",
                          "shaft",
                          "shaft.rotor",
                          "shaft.rotor.id",
                          "variant",
                          "variant.plain",
                          "variant.plain.like",
                          "variant.plain.change",
                          "variant.plain.seal",
                          "variant.plain.seal.override",
                          "variant.plain.grounding",
                          "variant.plain.grounding.path",
                          "variant.plain.extra",
                          "inverter",
                          "inverter.ringing",
                          "inverter.modulation_index",
                          "damage",
                          "damage.law",
                          "damage.calibration",
                          "damage.relative",
                          "damage.current_density",
                          "requirement",
                          "allocation",
                          "prices",
                          "prices.element",
                          "service.mix",
                          "duty",
                          "operating_point",
                          "bearing",
                          "contact",
                          "contact.light-lip",
                          "lubricant",
                          "rule",
                          "bearing_type",
                          "vehicle",
                          "vehicle.road_load",
                          "sump",
                          "coupling",
                          "discharge",
                          "evidence",
                          "variant.plain.basis",
                          "basis",
                          "source"})
    for (const char* value :
         {"1", "-1.5", "nan", "true", "\"\"", "\"unknown\"", "\"none\"", "[]", "[1, \"a\"]", "[{}]",
          "[[]]", "{}", "{ value = 1 }", "{ id = \"x\" }", "{ x = { y = 1 } }", "2020-01-01"}) {
      CAPTURE(key, value);
      read(test::smallest, {std::string{key} + "=" + value});
    }
}

TEST_CASE("deep nesting and long lines are survived", "[derived]") {
  read("a = " + std::string(5000, '[') + std::string(5000, ']') + "\n");
  read("a = \"" + std::string(1'000'000, 'x') + "\"\n" + test::smallest);
  std::string many;
  for (int i = 0; i < 2000; ++i) many += "key" + std::to_string(i) + " = 1\n";
  read(many + test::smallest);
}

TEST_CASE("a file full of nonsense is answered within a second", "[derived]") {
  std::string text = test::smallest + "[nonsense]\n";
  for (int i = 0; i < 50'000; ++i) text += "k" + std::to_string(i) + " = 1\n";
  text += "[shaft_]\n";
  const std::clock_t start = std::clock();  // of the processor: others may share the machine
  read(text);
  std::string many = "[study]\n";
  for (int i = 0; i < 5'000; ++i) many += "k" + std::to_string(i) + " = 1\n";
  const auto problems = test::problems_of(many);
  CHECK(std::clock() - start < CLOCKS_PER_SEC);
  CHECK(problems.size() == 201);  // the first 200 and the note that there are more
  CHECK(problems.front().what.starts_with("more than 200 problems"));
}

#include <algorithm>
#include <string>

#include "input/support.hpp"

using namespace ohmdrag;
using test::complaint;
using test::load;
using test::problems_of;
using test::replaced;
using test::smallest;

namespace {

const std::string grounded = smallest + R"([variant.grounding]
element = "textile-ring-dense"
line_force = "0.015 N/mm"
position = "14 mm"
path = { strap = "18 mm x 8 mm x 0.4 mm" }
)";

bool says(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  const bool found = text.find(words) != std::string::npos;
  CHECK(found);
  return found;
}

}  // namespace

TEST_CASE("the smallest case loads", "[derived]") {
  const study::Case c = load(smallest);
  CHECK_FALSE(c.vehicle);
  CHECK_FALSE(c.inverter);
  CHECK(c.bearings.empty());
  CHECK(c.shafts[0].ratio.mid() == 1.0);
  CHECK(c.baseline == "plain");
  CHECK(c.variants[0].seal->shaft == "rotor");
  CHECK(c.sump.lubricant.id == "thin-axle-oil");
  // What was filled in is said.
  CHECK(std::ranges::any_of(c.warnings, [](const std::string& warning) {
    return warning.find("no [sump]") != std::string::npos;
  }));
}

TEST_CASE("a wrong dimension says what was read and what was expected", "[derived]") {
  const std::string said =
      complaint(replaced(grounded, "line_force = \"0.015 N/mm\"", "line_force = \"12 mm\""));
  CHECK(said ==
        "case.toml:17:14: error: variant.plain.grounding.line_force: read \"12 mm\", a length; "
        "expected a force per length (N/m, N/mm, N/cm)\n"
        "  17 | line_force = \"12 mm\"\n"
        "     |              ^~~~~~~");
}

TEST_CASE("numbers that are none are refused with what would do", "[derived]") {
  struct Row {
    const char* diameter;
    const char* said;
  };
  const Row row = GENERATE(
      Row{"45", "read 45: a length needs a unit"}, Row{"\"45\"", "needs a unit"},
      Row{"\"45 furlong\"", "not a unit"}, Row{"\"nan mm\"", "nan"}, Row{"\"inf mm\"", "inf"},
      Row{"\"-45 mm\"", "read \"-45 mm\", outside the physical range"},
      Row{"\"4500 mm\"", "outside the physical range; expected 0"}, Row{"true", "read true"},
      Row{"[\"45 mm\"]", "read a list"}, Row{"{ spread = \"± 1 mm\" }", "without a value"},
      Row{"{ value = \"45 mm\", spread = \"± 1 N\" }", "N"},
      Row{"{ value = \"45 ± 1 mm\", spread = \"± 1 mm\" }", "one of the two"},
      Row{"\"unknown\"", "no range of the trade"});
  CAPTURE(row.diameter);
  const std::string text =
      replaced(smallest, "diameter = \"45 mm\"", std::string{"diameter = "} + row.diameter);
  says(complaint(text), row.said);
  says(complaint(text), "shaft.rotor.diameter");
}

TEST_CASE("temperatures have a floor and no percentage", "[derived]") {
  says(complaint(replaced(smallest, "70 degC", "-300 degC")), "operating_point.fast");
  says(complaint(replaced(smallest, "70 degC", "70 degC ± 5 %")), "operating_point.fast");
  // -7 degC is a temperature like any other.
  CHECK(load(replaced(smallest, "70 degC", "-7 degC")).points[0].oil_temperature.mid() ==
        Approx(266.15));
}

TEST_CASE("a middle inside and an interval beyond the physical range is cut there", "[derived]") {
  const study::Case c =
      load(replaced(smallest, "diameter = \"45 mm\"", "diameter = \"45 ± 50 mm\""));
  CHECK(c.shafts[0].diameter.spread.floor == 0.0);
  CHECK(c.shafts[0].diameter.spread.interval().low >= 0.0);
}

TEST_CASE("an unknown key is refused with the nearest known one", "[derived]") {
  struct Row {
    const char* old;
    const char* now;
    const char* said;
  };
  const Row row =
      GENERATE(Row{"diameter = ", "diametre = ", "did you mean diameter?"},
               Row{"position = \"12 mm\"", "position = \"12 mm\"\npositoin = \"12 mm\"",
                   "did you mean position?"},
               Row{"[study]", "[studdy]\na = 1\n[study]", "did you mean study?"},
               Row{"title = \"One lip\"", "titel = \"One lip\"", "did you mean title?"});
  const auto problems = problems_of(replaced(smallest, row.old, row.now));
  CHECK(std::ranges::any_of(problems, [&](const input::Problem& p) {
    return p.what == "there is no such key here" && p.hint == row.said;
  }));
}

TEST_CASE("references to what is not there name the nearest", "[derived]") {
  says(complaint(replaced(smallest, "\"light-lip\"", "\"light-lipp\"")), "did you mean light-lip?");
  says(complaint(replaced(smallest, "title = \"One lip\"", "baseline = \"plane\"")),
       "did you mean plain?");
  says(complaint(replaced(smallest, "element = \"light-lip\"",
                          "element = \"light-lip\"\nshaft = \"roter\"")),
       "did you mean rotor?");
}

TEST_CASE("ids come once and are there", "[derived]") {
  says(complaint(smallest + "[[variant]]\nid = \"plain\"\n"), "another [[variant]] has already");
  says(complaint(smallest + "[[variant]]\ntitle = \"nameless\"\n"), "id: missing");
  says(complaint(smallest + "[[variant]]\nid = \"with.dot\"\n"), "no blanks, dots or quotes");
}

TEST_CASE("exactly one of the ways to say it", "[derived]") {
  const std::string forces = "exactly one of line_force, total_radial_force, split_shaft_reading";
  says(complaint(replaced(grounded, "line_force = \"0.015 N/mm\"",
                          "line_force = \"0.015 N/mm\"\ntotal_radial_force = \"2 N\"")),
       forces);
  says(complaint(replaced(grounded, "line_force = \"0.015 N/mm\"", "")), forces);
  says(complaint(replaced(smallest, "shaft_speed = \"9000 rpm\"", "")),
       "exactly one of road_speed, shaft_speed");
  says(complaint(replaced(grounded, "path = { strap = \"18 mm x 8 mm x 0.4 mm\" }", "")),
       "path: missing");
  says(complaint(replaced(grounded, "{ strap = \"18 mm x 8 mm x 0.4 mm\" }",
                          "{ strap = \"18 mm x 8 mm\" }")),
       "expected 3 lengths");
}

TEST_CASE("no path is allowed and warned about", "[derived]") {
  const study::Case c =
      load(replaced(grounded, "{ strap = \"18 mm x 8 mm x 0.4 mm\" }", "\"none\""));
  CHECK(std::holds_alternative<study::NoPath>(c.variants[0].grounding->path));
  CHECK(std::ranges::any_of(c.warnings, [](const std::string& warning) {
    return warning.find("no path to the housing") != std::string::npos;
  }));
}

TEST_CASE("what needs a vehicle says so", "[derived]") {
  says(complaint(replaced(smallest, "shaft_speed = \"9000 rpm\"", "road_speed = \"70 km/h\"")),
       "needs a [vehicle]");
}

TEST_CASE("all problems come at once, in the order of the file", "[derived]") {
  std::string text = replaced(smallest, "\"45 mm\"", "\"45 N\"");
  text = replaced(text, "\"9000 rpm\"", "9000");
  text = replaced(text, "\"light-lip\"", "\"no-lip\"");
  text = replaced(text, "position", "distance");
  const auto problems = problems_of(text);
  REQUIRE(problems.size() == 5);  // the misspelt key is missing, and unknown
  CHECK(std::ranges::is_sorted(problems, {}, &input::Problem::line));
  const input::InputError error{problems};
  for (const input::Problem& problem : problems)
    CHECK(std::string{error.what()}.find(problem.what) != std::string::npos);
}

TEST_CASE("the caret stands under the value whatever stands before it", "[derived]") {
  // µ and ± are two bytes and one column each.
  const std::string said = complaint(smallest + "[steering]\n", {});
  says(said, "steering");
  const std::string text =
      replaced(smallest, "diameter = \"45 mm\"", "\"µ±\" = \"x\"\ndiameter = \"45 mm\"");
  const auto problems = problems_of(text);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].column == 1);
  const auto inline_problems =
      problems_of(replaced(smallest, "diameter = \"45 mm\"",
                           "diameter = { source = \"Prüfstand ±\", value = \"45 N\" }"));
  REQUIRE(inline_problems.size() == 1);
  CHECK(inline_problems[0].column == 46);
  std::string mark(45, ' ');
  mark.append("^~~~~~");
  CHECK(input::in_words(inline_problems[0]).find(mark) != std::string::npos);
}

TEST_CASE("control characters of a file reach no terminal", "[derived]") {
  const std::string said = complaint(replaced(smallest, "\"45 mm\"", "\"45 \\u001b[31mmm\""));
  CHECK(said.find('\x1b') == std::string::npos);
}

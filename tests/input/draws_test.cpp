#include <algorithm>
#include <string>

#include "input/support.hpp"

using namespace ohmdrag;
using test::complaint;
using test::load;
using test::replaced;
using test::smallest;

namespace {

std::string with_diameter(const std::string& value) {
  return replaced(smallest, "diameter = \"45 mm\"", "diameter = " + value);
}

/// Two numbers with a spread and what hangs them together.
std::string correlated(const std::string& table) {
  return replaced(with_diameter("{ value = \"45 mm ± 0.1 mm\", scatter = \"± 0.01 mm\" }"),
                  "\"70 degC\"", "\"70 ± 5 degC\"") +
         "[[correlation]]\n" + table;
}

const std::string keys =
    "keys = [\"shaft.rotor.diameter\", \"operating_point.fast.oil_temperature\"]\n";

}  // namespace

TEST_CASE("triangles and limits come out of a case and read the same again", "[derived]") {
  for (const char* text : {"44 … 45 … 48 mm", "45 mm ± 0.5 mm within 44.8 … 45.2 mm",
                           "45 mm ×/÷ 1.1 within 44 … 50 mm"}) {
    CAPTURE(text);
    const auto d = load(with_diameter('"' + std::string(text) + '"')).shafts[0].diameter;
    CHECK(d.read_as == text);
    const auto again = load(with_diameter('"' + d.read_as + '"')).shafts[0].diameter;
    for (const double u : {0.01, 0.5, 0.99}) CHECK(again.at(u, 0.5) == d.at(u, 0.5));
    CHECK(d.at(1e-9, 0.5) > 0.0439);
  }
}

TEST_CASE("the table form says the same", "[derived]") {
  const auto same = [](const std::string& table, const std::string& text) {
    const auto a = load(with_diameter(table)).shafts[0].diameter;
    const auto b = load(with_diameter(text)).shafts[0].diameter;
    for (const double u : {0.01, 0.3, 0.9}) CHECK(a.at(u, 0.5) == Approx(b.at(u, 0.5)));
    return a;
  };
  same(R"({ value = "45 mm", spread = "44 … 45 … 48 mm" })", "\"44 … 45 … 48 mm\"");
  const auto cut = same(R"({ value = "45 mm", spread = "± 0.5 mm", within = "44.8 … 45.2 mm" })",
                        "\"45 mm ± 0.5 mm within 44.8 … 45.2 mm\"");
  CHECK(cut.read_as.find("within 44.8 … 45.2 mm") != std::string::npos);
}

TEST_CASE("a table that makes no sense is complained of where it stands", "[derived]") {
  const std::string leaning =
      complaint(with_diameter(R"({ value = "45 mm", scatter = "-1 … 0 … 3 mm" })"));
  CHECK(leaning.find("the middle one of three values") != std::string::npos);
  const std::string off =
      complaint(with_diameter(R"({ value = "45 mm", spread = "44 … 46 … 48 mm" })"));
  CHECK(off.find("must be the value itself, 45 mm") != std::string::npos);
  CHECK(off.find("case.toml:5:") != std::string::npos);
  CHECK(off.find('^') != std::string::npos);
  const std::string alone =
      complaint(with_diameter(R"({ value = "45 mm", within = "44 … 46 mm" })"));
  CHECK(alone.find("need a ± or ×/÷") != std::string::npos);
}

TEST_CASE("a correlation names numbers of the case", "[derived]") {
  const study::Case c = load(correlated(keys + "matrix = [[1, 0.6], [0.6, 1]]\n"));
  REQUIRE(c.correlations.size() == 1);
  CHECK(c.correlations[0].keys[1] == "operating_point.fast.oil_temperature");
  CHECK(c.correlations[0].matrix == std::vector{1.0, 0.6, 0.6, 1.0});
  CHECK_FALSE(c.correlations[0].of_scatter);
}

TEST_CASE("a correlation that is none is complained of", "[derived]") {
  const auto says = [](const std::string& table, const char* what) {
    const std::string text = complaint(correlated(table));
    CAPTURE(text);
    CHECK(text.find(what) != std::string::npos);
    CHECK(text.find("case.toml:") == 0);
    CHECK(text.find('^') != std::string::npos);
  };
  says(keys + "matrix = [[1, 1.6], [1.6, 1]]\n", "is not within -1 … 1");
  says(keys + "matrix = [[1, 0.6], [0.5, 1]]\n", "one way and by");
  says(keys + "matrix = [[2, 0.6], [0.6, 1]]\n", "correlates with itself by 2");
  says(keys + "matrix = [[1, 0.6]]\n", "expected 2 rows of 2 numbers");
  says(keys, "missing; expected rows of correlations");
  says(
      "keys = [\"shaft.rotor.diameter\", \"operating_point.fast.oil_temperatur\"]\n"
      "matrix = [[1, 0.6], [0.6, 1]]\n",
      "did you mean operating_point.fast.oil_temperature?");
  says(
      "keys = [\"shaft.rotor.diameter\", \"operating_point.fast.shaft_speed\"]\n"
      "matrix = [[1, 0.6], [0.6, 1]]\n",
      "which has no spread to correlate");
  says(keys + "of = \"scatter\"\nmatrix = [[1, 0.6], [0.6, 1]]\n", "which has no scatter");
  says(keys + "matrix = [[1, 0.6], [0.6, 1]]\n[[correlation]]\n" + keys +
           "matrix = [[1, 0.1], [0.1, 1]]\n",
       "is in another correlation already");
}

TEST_CASE("what an include holds beyond the case is left out of a correlation", "[derived]") {
  const study::Case c =
      load(correlated("keys = [\"shaft.rotor.diameter\", \"contact.metal-fibre-brush.friction\"]\n"
                      "matrix = [[1, 0.6], [0.6, 1]]\n"));
  CHECK(std::ranges::any_of(c.warnings, [](const std::string& text) {
    return text.find("only 1 of 2 numbers") != std::string::npos;
  }));
}

TEST_CASE("a value that is tried out leaves its correlation", "[derived]") {
  const std::string text = correlated(keys + "matrix = [[1, 0.6], [0.6, 1]]\n");
  const study::Case c = load(text, {"shaft.rotor.diameter=44 mm"});
  CHECK(c.shafts[0].diameter.certain());
  CHECK(c.warnings.size() == load(text).warnings.size() + 1);
}

TEST_CASE("samples are a number or adaptive", "[derived]") {
  const auto of_study = [](const std::string& lines) {
    return replaced(smallest, "title = \"One lip\"\n", "title = \"One lip\"\n" + lines);
  };
  CHECK(load(of_study("samples = 500\n")).samples == 500);
  const study::Case c = load(of_study("samples = \"adaptive\"\ndigits = 1\nmost_samples = 8192\n"));
  REQUIRE(c.adaptive);
  CHECK(c.adaptive->digits == 1);
  CHECK(c.adaptive->most == 8192);
  CHECK(c.samples == 0);
  CHECK(complaint(of_study("samples = \"many\"\n")).find("or \"adaptive\"") != std::string::npos);
  CHECK(complaint(of_study("samples = 0\n")).find("expected 1 to") != std::string::npos);
  CHECK(complaint(of_study("digits = 2\n")).find("adaptive ensemble") != std::string::npos);
  CHECK(complaint(of_study("samples = \"adaptive\"\ndigits = 9\n")).find("expected 1 to 4") !=
        std::string::npos);
}

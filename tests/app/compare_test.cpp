// `ohmdrag compare`: what changed between two cases, and which change moved which figure.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <regex>

#include "program.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

const std::string motor = test::shipped_case("buys-nothing").string();

/// The shipped case with other values as a file of its own.
std::string other_case(const test::Folder& folder) {
  std::string text = test::file_text(motor);
  const auto put = [&](const std::string& was, const std::string& is) {
    const std::size_t at = text.find(was);
    REQUIRE(at != std::string::npos);
    text.replace(at, was.size(), is);
  };
  put("diameter = \"25 mm\"", "diameter = \"32 mm\"");
  put("ambient = \"25 degC\"", "ambient = \"40 degC\"");
  put("line_force = \"0.012 N/mm ± 20 %\"", "line_force = \"0.018 N/mm ± 20 %\"");
  put("shaft_speed = \"2800 rpm\"", "shaft_speed = \"3400 rpm\"");
  return folder.write("other.toml", text).string();
}

json compared(const test::Arguments& more) {
  test::Arguments arguments{"compare", "--json"};
  arguments.insert(arguments.end(), more.begin(), more.end());
  const test::Ran ran = test::ohmdrag(arguments);
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  return json::parse(ran.out);
}

}  // namespace

TEST_CASE("equal inputs give an empty list", "[derived]") {
  const json document = compared({motor, motor});
  CHECK(document.at("changes").empty());
  CHECK(document.at("moves").empty());
  CHECK(document.at("differences").empty());
  CHECK(document.at("figures_alike").get<int>() > 10);
  CHECK_THAT(test::ohmdrag({"compare", motor, motor}).out, Contains("Nothing is changed"));
}

TEST_CASE("shares and rest add up to the move to the last bit", "[derived]") {
  const test::Folder folder;
  const json document = compared({motor, other_case(folder)});
  CHECK(document.at("parts").size() >= 4);
  bool any_rest = false;
  for (const json& move : document.at("moves")) {
    CAPTURE(move.dump());
    REQUIRE(move.at("shares").size() == document.at("parts").size());
    double sum = 0.0;
    for (const json& share : move.at("shares")) sum += share.get<double>();
    CHECK(sum + move.at("rest").get<double>() == move.at("move").get<double>());
    any_rest = any_rest || move.at("rest") != 0.0;
    // Nothing may be rounded away that anybody would see.
    CHECK(move.at("after").get<double>() - move.at("before").get<double>() ==
          Approx(move.at("move").get<double>()).epsilon(1e-9).margin(1e-9));
  }
  // Watts go with the product of diameter, force and speed: three together leave a rest.
  CHECK(any_rest);
}

TEST_CASE("swapping the sides turns every sign and no digit", "[derived]") {
  const test::Folder folder;
  const std::string other = other_case(folder);
  const json there = compared({motor, other}), back = compared({other, motor});
  REQUIRE(there.at("moves").size() == back.at("moves").size());
  REQUIRE(there.at("parts").size() == back.at("parts").size());
  for (std::size_t m = 0; m < there.at("moves").size(); ++m) {
    const json &a = there.at("moves")[m], &b = back.at("moves")[m];
    CAPTURE(a.dump(), b.dump());
    CHECK(a.at("figure") == b.at("figure"));
    CHECK(a.at("move").get<double>() == -b.at("move").get<double>());
    CHECK(a.at("rest").get<double>() == -b.at("rest").get<double>());
    for (std::size_t p = 0; p < a.at("shares").size(); ++p)
      CHECK(a.at("shares")[p].get<double>() == -b.at("shares")[p].get<double>());
  }
}

TEST_CASE("one change carries the whole move, and words carry none", "[derived]") {
  const json document = compared({motor, motor, "--set-after", "shaft.rotor.diameter=32 mm",
                                  "--set-after", "study.title=Another title"});
  REQUIRE(document.at("changes").size() == 2);
  CHECK(document.at("changes")[0].at("key") == "shaft.rotor.diameter");
  CHECK(document.at("changes")[0].at("before") == "\"25 mm\"");
  CHECK(document.at("changes")[0].at("after") == "\"32 mm\"");
  CHECK(document.at("changes")[0].at("words_only") == false);
  CHECK(document.at("changes")[1].at("words_only") == true);
  REQUIRE(document.at("parts").size() == 1);
  REQUIRE_FALSE(document.at("moves").empty());
  for (const json& move : document.at("moves")) {
    CHECK(move.at("shares").at(0) == move.at("move"));
    CHECK(move.at("rest") == 0.0);
  }
}

TEST_CASE("a force that is stated in another way is one change, not two", "[derived]") {
  const json document = compared(
      {motor, motor, "--set-after", "variant.dense-ring.grounding.total_radial_force=2 N"});
  REQUIRE(document.at("changes").size() == 1);
  CHECK_THAT(document.at("changes")[0].at("before").get<std::string>(), Contains("line_force"));
}

TEST_CASE("changes that are refused alone are taken together", "[derived]") {
  // A duty that starts warm instead of one that is held, on another shaft than there is: the
  // variant's shaft and the shaft's name only make sense together.
  std::string text = test::file_text(motor);
  text = std::regex_replace(text, std::regex("\"rotor\""), "\"axle\"");
  const test::Folder folder;
  const json document = compared({motor, folder.write("other.toml", text).string()});
  CHECK(document.at("parts").size() == 1);
  CHECK(document.at("parts")[0].at("changes").size() > 1);
  CHECK(document.at("moves").empty());
}

TEST_CASE("a variant of one side alone is said in words", "[derived]") {
  std::string text = test::file_text(motor);
  text += "\n[[variant]]\nid = \"second\"\nlike = \"dense-ring\"\n";
  const test::Folder folder;
  const std::string other = folder.write("other.toml", text).string();
  CHECK_THAT(compared({motor, other}).at("differences").dump(),
             Contains("only after: variant second"));
  CHECK_THAT(compared({other, motor}).at("differences").dump(),
             Contains("only before: variant second"));
}

TEST_CASE("of two results the version of the program is a line of its own", "[derived]") {
  const test::Folder folder;
  json result = json::parse(test::ohmdrag({"trade", motor, "--json", "--quiet"}).out);
  const std::string before = folder.write("before.json", result.dump()).string();
  CHECK(compared({before, before}).at("changes").empty());
  CHECK(compared({before, before}).at("moves").empty());

  result.at("version") = "0.0.1";
  json& watts = result.at("trade").at("exchange")[1].at("net_W_by_point")[0].at("mid");
  const double was = watts.get<double>();
  watts = was + 0.25;
  const std::string after = folder.write("after.json", result.dump()).string();
  const json document = compared({before, after});
  CHECK(document.at("version_changed") == true);
  REQUIRE(document.at("moves").size() == 1);
  CHECK(document.at("moves")[0].at("move").get<double>() == Approx(0.25));
  CHECK(document.at("moves")[0].at("shares").at(0) == document.at("moves")[0].at("move"));
  CHECK_THAT(test::ohmdrag({"compare", before, after}).out,
             Contains("Program version: ") && Contains("version: +0.25"));

  // Another case as well: what each moved cannot be told apart.
  result.at("case").at("sha256") = std::string(64, '0');
  const json mixed = compared({before, folder.write("mixed.json", result.dump()).string()});
  CHECK(mixed.at("moves")[0].at("shares").empty());
  CHECK_THAT(mixed.at("moves")[0].at("remark").get<std::string>(), Contains("not split"));
}

TEST_CASE("the document of a comparison follows its schema", "[derived]") {
  const test::Folder folder, documents;
  documents.write("same.json", compared({motor, motor}).dump());
  documents.write("other.json", compared({motor, other_case(folder)}).dump());
  const test::Ran valid =
      test::ran({"/usr/bin/python3", test::in_source("tests/report/validate.py"), "--strict",
                 test::in_source("data/schema/ohmdrag-compare-1.json"), documents.path().string()});
  INFO(valid.out << valid.err);
  CHECK(valid.status == 0);
}

TEST_CASE("a case beside a result, or no result at all, is refused", "[derived]") {
  const test::Folder folder;
  const std::string empty = folder.write("empty.json", "{}").string();
  for (const test::Arguments& more : {test::Arguments{motor, empty}, test::Arguments{empty, empty},
                                      test::Arguments{motor, "missing.toml"}}) {
    test::Arguments arguments{"compare"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const test::Ran ran = test::ohmdrag(arguments);
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK_FALSE(ran.err.empty());
  }
}

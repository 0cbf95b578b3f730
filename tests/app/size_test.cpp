// `ohmdrag size`: the window of an element from a user's hands.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "program.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

const std::string van = test::shipped_case("parcel-van").string();

test::Ran size_of(test::Arguments more) {
  test::Arguments arguments{"size", van};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return test::ohmdrag_once(arguments);
}

}  // namespace

TEST_CASE("the document of a window follows its schema", "[derived]") {
  const test::Folder documents;
  for (const test::Arguments& more : {test::Arguments{"--json", "--variant", "dense-ring"},
                                      test::Arguments{"--json", "--variant", "plain", "--seal"}}) {
    const test::Ran ran = size_of(more);
    CAPTURE(ran.err);
    REQUIRE(ran.status == 0);
    documents.write(more.back() + ".json", ran.out);
  }
  const test::Ran valid =
      test::ran({"/usr/bin/python3", test::in_source("tests/report/validate.py"), "--strict",
                 test::in_source("data/schema/ohmdrag-size-1.json"), documents.path().string()});
  INFO(valid.out << valid.err);
  CHECK(valid.status == 0);
}

TEST_CASE("the page answers first, then shows what bounds the window", "[derived]") {
  const test::Ran ran = size_of({"--variant", "dense-ring"});
  REQUIRE(ran.status == 0);
  const std::size_t answer = ran.out.find("Answer: ");
  REQUIRE(answer != std::string::npos);
  CHECK(answer < ran.out.find("What bounds the window"));
  CHECK_THAT(ran.out, Contains("Invented scenario."));
  CHECK_THAT(ran.out, Contains("grounding at most 7 W, cruise"));
  CHECK_THAT(ran.out, Contains("licensed") || Contains("qualified"));
  const json document = json::parse(size_of({"--json", "--variant", "dense-ring"}).out);
  CHECK(document.at("window").at("cheapest") >= document.at("window").at("low"));
  CHECK(document.at("knob") == "line_force_N_per_m");
}

TEST_CASE("a range may be stated, and what makes no sense is refused in words", "[derived]") {
  const json document = json::parse(
      size_of({"--json", "--variant", "dense-ring", "--from", "0.01 N/mm", "--to", "0.02 N/mm"})
          .out);
  CHECK(document.at("rows").front().at("knob").get<double>() == Approx(10.0));
  CHECK(document.at("rows").back().at("knob").get<double>() == Approx(20.0));
  const auto [more, why] = GENERATE(table<test::Arguments, std::string>({
      {test::Arguments{}, "--variant: name one of"},
      {test::Arguments{"--variant", "plain"}, "no grounding element to size"},
      {test::Arguments{"--variant", "dense-ring", "--from", "1 mm"}, "a length"},
      {test::Arguments{"--variant", "dense-ring", "--from", "0.02 N/mm", "--to", "0.01 N/mm"},
       "must rise"},
      {test::Arguments{"--variant", "dense-ring", "--by", "free_length"}, "has no fibres"},
      {test::Arguments{"--variant", "dense-ring", "--by", "colour"}, "--by"},
  }));
  const test::Ran ran = size_of(more);
  CAPTURE(ran.err);
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Contains(why));
}

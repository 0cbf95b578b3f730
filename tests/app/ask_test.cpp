// `ohmdrag ask`: open facts as questions.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "program.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

const std::string motor = test::shipped_case("pump-motor").string();
const test::Arguments asked_as_document{"ask", motor,   "--json",          "--closely",
                                        "6",   "--set", "study.samples=20"};

}  // namespace

TEST_CASE("questions are ordered, and each says what hangs on it and where to look", "[derived]") {
  const test::Ran& ran = test::ohmdrag_once(asked_as_document);
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  const json document = json::parse(ran.out);
  REQUIRE_FALSE(document.at("questions").empty());
  double before = 2.0;
  for (const json& question : document.at("questions")) {
    CAPTURE(question.dump());
    CHECK(question.at("choice_turns").get<double>() <= before);
    before = question.at("choice_turns").get<double>();
    CHECK_THAT(question.at("question").get<std::string>(),
               Contains(question.at("key").get<std::string>()));
    CHECK((question.at("gain") > 0.0 || question.at("choice_turns") > 0.0 ||
           !question.at("requirements_turn").empty()));
  }
  CHECK(document.at("closely") == 6);
}

TEST_CASE("where nothing can turn the answer nothing is asked", "[derived]") {
  const test::Ran ran =
      test::ohmdrag({"ask", test::shipped_case("buys-nothing").string(), "--quiet"});
  REQUIRE(ran.status == 0);
  CHECK_THAT(ran.out, Contains("Nothing to ask") && Contains("Invented scenario."));
  CHECK_THAT(ran.out, Contains("qualified"));
}

TEST_CASE("the document of the questions follows its schema", "[derived]") {
  const test::Folder documents;
  documents.write("pump.json", test::ohmdrag_once(asked_as_document).out);
  const test::Ran valid =
      test::ran({"/usr/bin/python3", test::in_source("tests/report/validate.py"), "--strict",
                 test::in_source("data/schema/ohmdrag-ask-1.json"), documents.path().string()});
  INFO(valid.out << valid.err);
  CHECK(valid.status == 0);
}

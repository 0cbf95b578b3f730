// How sure a result is, as a user meets it: many draws, confidence, first order.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "app/program.hpp"

using namespace ohmdrag;
using nlohmann::json;

namespace {

const json& requirement_of(const json& document, const std::string& variant) {
  for (const json& row : document.at("variants"))
    if (row.at("id") == variant) return row.at("requirements").at(0);
  throw std::runtime_error("no variant " + variant);
}

}  // namespace

TEST_CASE("a confidence separates what is not known from scatter", "[derived]") {
  const std::string van = test::shipped_case("parcel-van").string();
  const test::Ran ran =
      test::ohmdrag({"budget", van, "--json", "--set", "requirement.discharge-path.confidence=0.9",
                     "--set", "study.samples=40"});
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  const json document = json::parse(ran.out);
  const json& row = requirement_of(document, "dense-ring");
  REQUIRE(row.contains("parts"));
  const json& parts = row.at("parts");
  CHECK(parts.at("way") == "nested");
  CHECK(parts.at("share_asked") == 0.8);
  CHECK(parts.at("states") == 64);
  CHECK(row.at("met") == (parts.at("share_at_confidence") >= 0.8));
  // What is not known weighs more than scatter here: with confidence less is reached than of all
  // draws together.
  CHECK(parts.at("share_at_confidence") < row.at("probability"));
  CHECK(requirement_of(document, "plain").at("parts").at("share_at_confidence") == 0.0);
}

TEST_CASE("many draws and confidence come out the same on one processor", "[derived]") {
  const test::Arguments asked{
      "budget", test::shipped_case("pump-motor").string(), "--json", "--set", "study.samples=300",
      "--set",  "requirement.path.confidence=0.9"};
  const test::Ran two = test::ohmdrag(asked);
  test::Surroundings alone;
  alone.on_one_processor = true;
  const test::Ran one = test::ohmdrag(asked, alone);
  REQUIRE(two.status == 0);
  CHECK(one.out == two.out);
}

TEST_CASE("trade holds the first order beside the draws, or says why not", "[derived]") {
  const std::string file = test::shipped_case("kiloohm-enough").string();
  const json plain = json::parse(
      test::ohmdrag({"trade", file, "--json", "--quiet", "--set", "study.samples=40"}).out);
  CHECK_FALSE(plain.contains("first_order"));
  CHECK_THAT(plain.at("no_first_order").get<std::string>(), Catch::Contains("runs"));
  const test::Ran asked = test::ohmdrag(
      {"trade", file, "--json", "--set", "study.samples=40", "--set", "study.first_order=true"});
  REQUIRE(asked.status == 0);
  const json rows = json::parse(asked.out).at("first_order");
  REQUIRE_FALSE(rows.empty());
  for (const json& row : rows) {
    CAPTURE(row.dump());
    // Forty draws know no end of their own: nothing is called valid.
    CHECK(row.at("verdict") != "valid");
    CHECK_FALSE(row.at("because").is_null());
  }
}

// Where it strikes and what it does, as `ohmdrag ground` tells it of the shipped cases.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "app/program.hpp"

using namespace ohmdrag;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

json document(const std::string& command, const fs::path& file, const std::string& set = {}) {
  test::Arguments arguments{command, file.string(), "--json", "--quiet"};
  if (!set.empty()) {
    arguments.push_back("--set");
    arguments.push_back(set);
  }
  const test::Ran& ran = test::ohmdrag_once(arguments);
  REQUIRE(ran.status == 0);
  return json::parse(ran.out);
}

}  // namespace

TEST_CASE("every variant of every case with an inverter has its map", "[derived]") {
  for (const fs::path& file : test::shipped_cases()) {
    CAPTURE(file);
    const json ground = document("ground", file);
    for (const json& variant : ground.at("variants")) {
      CAPTURE(variant.at("id"));
      if (!variant.contains("voltage") || variant.at("voltage").empty()) {
        CHECK_FALSE(variant.contains("strike_map"));
        continue;
      }
      const json& map = variant.at("strike_map");
      CHECK(map.at("shaft_speeds_rpm").size() >= 10);
      CHECK(map.at("oil_temperatures_degC").size() >= 4);
      CHECK(map.at("regime").size() == map.at("oil_temperatures_degC").size());
      double sum = map.at("standstill_time_share").get<double>();
      for (const json& row : map.at("time_share"))
        for (const json& share : row) sum += share.get<double>();
      CHECK(sum == Approx(1.0));
    }
  }
}

TEST_CASE("over a driven mix the map's shares are those of the life section", "[derived]") {
  // One draw is the nominal case.
  const json study = document("trade", test::shipped_case("parcel-van"), "study.samples=1");
  for (const json& variant : study.at("variants")) {
    CAPTURE(variant.at("id"));
    double striking = 0.0;
    for (const json& row : variant.at("life"))
      striking += row.at("striking_time_share").at("mid").get<double>();
    CHECK(variant.at("strike_map").at("striking_time_share").get<double>() ==
          Approx(striking).margin(1e-9));
  }
}

TEST_CASE("ground compares the variants before it goes into detail", "[derived]") {
  const test::Ran ran =
      test::ohmdrag({"ground", test::shipped_case("parcel-van").string(), "--quiet"});
  CHECK(ran.status == 0);
  const std::size_t compared = ran.out.find("all variants");
  const std::size_t mapped = ran.out.find("Where it strikes");
  REQUIRE(compared != std::string::npos);
  REQUIRE(mapped != std::string::npos);
  CHECK(compared < mapped);
  CHECK(ran.out.find("No class or limit is claimed.") != std::string::npos);
}

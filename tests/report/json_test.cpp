#include "ohmdrag/report/json.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "sample_findings.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using Json = nlohmann::json;

namespace {

void write(const std::string& name, const std::string& text) {
  const std::filesystem::path folder = OHMDRAG_SAMPLE_FOLDER;
  std::filesystem::create_directories(folder);
  std::ofstream(folder / (name + ".json"), std::ios::binary) << text;
}

}  // namespace

TEST_CASE("documents for the schema check", "[derived]") {
  for (const std::string& command : commands) write(command, report::json(sample(command)));
  study::Findings bare;
  bare.command = "check";
  write("bare", report::json(bare));
  study::Findings nothing_chosen = sample("trade");
  nothing_chosen.trade->chosen.clear();
  nothing_chosen.assumed_share = not_a_number;
  write("nothing-chosen", report::json(nothing_chosen));
}

TEST_CASE("numbers read back to the same double", "[derived]") {
  const double value =
      GENERATE(0.1, 1.0 / 3.0, 5e-324, 1.7976931348623157e308, -2.5e-7, 123456789.0);
  study::Findings f = sample("budget");
  f.variants[0].budget[0].own_W.mid = value;
  const Json read = Json::parse(report::json(f));
  CHECK(read["variants"][0]["budget"][0]["own_W"]["mid"].get<double>() == value);
}

TEST_CASE("infinite and undefined figures are null", "[derived]") {
  study::Findings f = sample("trade");
  f.variants[0].budget[0].net_W = {-infinity, not_a_number, infinity};
  const Json read = Json::parse(report::json(f));
  for (const char* end : {"low", "mid", "high"})
    CHECK(read["variants"][0]["budget"][0]["net_W"][end].is_null());
  CHECK(read["variants"][1]["life"][0]["dose_factor"]["high"].is_null());
  CHECK(read["variants"][1]["life"][0]["electrical"]["no_limit"] == true);
  CHECK(read["variants"][0]["requirements"][0]["value"].is_null());
  CHECK_FALSE(read["variants"][0]["requirements"][0]["not_applicable"].is_null());
  CHECK(read["variants"][0]["budget"][1]["allocation_W"].is_null());
}

TEST_CASE("only the command's own sections appear", "[derived]") {
  const Json budget = Json::parse(report::json(sample("budget")));
  CHECK(budget["variants"][0].contains("budget"));
  CHECK_FALSE(budget["variants"][0].contains("life"));
  CHECK_FALSE(budget.contains("trade"));

  study::Findings one_sided = sample("ground");
  one_sided.variants[0].voltage.clear();
  CHECK(Json::parse(report::json(one_sided))["variants"][0]["voltage"] == Json::array());

  study::Findings trade = sample("trade");
  for (auto& variant : trade.variants) variant.requirements.clear();
  CHECK(Json::parse(report::json(trade))["variants"][0]["requirements"] == Json::array());
}

TEST_CASE("equal findings give equal bytes, in a fixed order, with a line end", "[derived]") {
  for (const std::string& command : commands) {
    const std::string text = report::json(sample(command));
    CHECK(text == report::json(sample(command)));
    CHECK(text.starts_with("{\n  \"schema\": \"ohmdrag-result/1\",\n  \"version\""));
    CHECK(text.ends_with("}\n"));
    CHECK(text.find("18446744073709551615") != std::string::npos);  // the seed stays an integer
  }
}

TEST_CASE("hostile text is carried, and harmless on a terminal", "[derived]") {
  study::Findings f = sample("budget");
  f.title = "\x1b]0;owned\a \u009B2J \u202E 🔧 \"quoted\" \\ \n" + std::string(10000, 'x');
  f.file = "broken \xff\xfe name";
  const std::string text = report::json(f);
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find('\a') == std::string::npos);
  CHECK(text.find("\u009B") == std::string::npos);
  CHECK(text.find("\u202E") == std::string::npos);
  const Json read = Json::parse(text);
  CHECK(read["case"]["title"] == f.title);
  CHECK(read["case"]["file"] == "broken \uFFFD\uFFFD name");
  write("hostile", text);
}

TEST_CASE("a list as JSON", "[derived]") {
  const Json read = Json::parse(report::json_table("cycles", {"id", "km"}, {{"wltc-3b", "23.27"}}));
  CHECK(read["schema"] == "ohmdrag-list/1");
  CHECK(read["kind"] == "cycles");
  CHECK(read["rows"][0]["km"] == "23.27");
  CHECK(Json::parse(report::json_table("cycles", {"id"}, {}))["rows"] == Json::array());
  CHECK_THROWS_AS(report::json_table("cycles", {"id", "km"}, {{"one"}}), std::invalid_argument);
  CHECK_THROWS_AS(report::json_table("cycles", {"id", "id"}, {}), std::invalid_argument);
}

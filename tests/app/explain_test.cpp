// `ohmdrag explain`: an independent calculator retypes what is printed and reaches every figure.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>

#include "program.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

std::vector<std::string> figures_of(const std::string& file) {
  const test::Ran ran = test::ohmdrag({"explain", file, "--json"});
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  std::vector<std::string> names;
  const json document = json::parse(ran.out);
  for (const json& row : document.at("figures"))
    names.push_back(row.at("figure").get<std::string>());
  return names;
}

json explained(const std::string& file, const std::string& figure) {
  const test::Ran ran = test::ohmdrag({"explain", file, figure, "--json"});
  CAPTURE(figure, ran.err);
  REQUIRE(ran.status == 0);
  return json::parse(ran.out);
}

double answer_of(const json& document) {
  for (const json& line : document.at("lines"))
    if (line.at("symbol") == document.at("answer")) return line.at("value").get<double>();
  FAIL("no line is the answer");
  return 0.0;
}

void retyped(const std::string& file, const std::string& figure) {
  CAPTURE(file, figure);
  const std::string command =
      "\"$0\" explain \"$1\" \"$2\" | /usr/bin/python3 " + test::in_source("tests/app/retype.py");
  const test::Ran ran = test::ran({"bash", "-c", command, test::built_program(), file, figure});
  INFO(ran.out << ran.err);
  CHECK(ran.status == 0);
  const json document = explained(file, figure);
  CHECK(answer_of(document) ==
        Approx(document.at("program_value").get<double>()).epsilon(1e-6).margin(1e-9));
}

bool is_of(const std::string& figure, const std::string& variant) {
  return figure.ends_with(':' + variant) || figure.find(':' + variant + '@') != std::string::npos;
}

}  // namespace

TEST_CASE("an independent calculator retypes every figure of the van's ring and of its lip alone",
          "[derived]") {
  const std::string van = test::shipped_case("parcel-van").string();
  std::set<std::string> kinds;
  for (const std::string& figure : figures_of(van)) {
    const bool at_another_point =
        figure.find('@') != std::string::npos && !figure.ends_with("@cruise");
    if (at_another_point || !(is_of(figure, "dense-ring") || is_of(figure, "plain"))) continue;
    retyped(van, figure);
    kinds.insert(figure.substr(0, figure.find(':')));
  }
  for (const char* kind :
       {"total_W", "net_W", "impedance_at_1_MHz_ohm", "edge_step_V", "held_V", "edge_peak_V",
        "threshold_V", "discharge_rate_per_s", "dose_rate_W_per_mm2", "battery_Wh_per_km",
        "break_even_kWh", "basic_life_h", "modified_life_h", "striking_time_share", "dose_factor",
        "life_h", "life_gain_h"}) {
    CAPTURE(kind);
    CHECK(kinds.contains(kind));
  }
}

TEST_CASE("an independent calculator retypes a machine's figures", "[derived]") {
  for (const char* name : {"buys-nothing", "grounding-harms", "insulated-bearings"}) {
    const std::string file = test::shipped_case(name).string();
    const std::vector<std::string> figures = figures_of(file);
    const std::string last = figures.back();
    const std::string variant = last.substr(last.find(':') + 1);
    for (const std::string& figure : figures)
      if (is_of(figure, variant)) retyped(file, figure);
  }
}

TEST_CASE("the figures that are explained are those of a sweep at the middle", "[derived]") {
  const std::string motor = test::shipped_case("buys-nothing").string();
  const test::Ran sweep = test::ohmdrag({"sweep", motor, "--quiet", "--axis", "study.seed=5"});
  REQUIRE(sweep.status == 0);
  std::vector<std::vector<std::string>> rows;
  for (const std::string& line : test::lines_of(sweep.out)) {
    if (line.starts_with('#')) continue;
    rows.emplace_back();
    std::string cell;
    for (const char c : line + ',')
      if (c == ',')
        rows.back().push_back(std::exchange(cell, {}));
      else
        cell += c;
  }
  const auto figure = [&](const std::string& variant, const std::string& name) {
    const auto column = std::ranges::find(rows[0], name) - rows[0].begin();
    for (const auto& row : rows)
      if (row[1] == variant) return std::stod(row[static_cast<std::size_t>(column)]);
    FAIL("no such variant");
    return 0.0;
  };
  CHECK(answer_of(explained(motor, "net_W:dense-ring@running")) ==
        Approx(figure("dense-ring", "running.net_W")).epsilon(1e-8));
  CHECK(answer_of(explained(motor, "kWh_per_year:dense-ring")) ==
        Approx(figure("dense-ring", "kWh_per_year")).epsilon(1e-8));
  CHECK(answer_of(explained(motor, "basic_life_h:plain")) ==
        Approx(figure("plain", "basic_life_h")).epsilon(1e-8));
}

TEST_CASE("the documents of explain follow their schema", "[derived]") {
  const std::string motor = test::shipped_case("buys-nothing").string();
  const test::Folder documents;
  documents.write("list.json", test::ohmdrag({"explain", motor, "--json"}).out);
  documents.write("net.json", explained(motor, "net_W:dense-ring@running").dump());
  const test::Ran valid =
      test::ran({"/usr/bin/python3", test::in_source("tests/report/validate.py"), "--strict",
                 test::in_source("data/schema/ohmdrag-explain-1.json"), documents.path().string()});
  INFO(valid.out << valid.err);
  CHECK(valid.status == 0);
}

TEST_CASE("a figure that does not exist is refused with what there is", "[derived]") {
  const std::string motor = test::shipped_case("buys-nothing").string();
  const test::Ran ran = test::ohmdrag({"explain", motor, "net_W:dense-ring@nowhere"});
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Contains("net_W:dense-ring@running"));
}

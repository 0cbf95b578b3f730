#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/report/json.hpp"
#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/study/band_words.hpp"
#include "sample_findings.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using Json = nlohmann::json;

namespace {

std::string ground_page(const study::Findings& findings = sample("ground"), int width = 100) {
  return report::terminal(findings, {.width = width});
}

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1))
    ++found;
  return found;
}

/// The lines from the first with one part to the first blank one.
std::vector<std::string> block(const std::string& text, const std::string& part) {
  std::vector<std::string> out;
  std::istringstream in(text.substr(text.find(part)));
  for (std::string line; std::getline(in, line) && !line.empty();) out.push_back(line);
  return out;
}

/// Text with every run of blanks and line ends as one blank.
std::string flowing(const std::string& text) {
  std::istringstream in(text);
  std::string out;
  for (std::string word; in >> word;) out += (out.empty() ? "" : " ") + word;
  return out;
}

}  // namespace

TEST_CASE("the comparison stands first, one line a variant", "[derived]") {
  const std::string text = ground_page();
  const std::vector<std::string> lines = block(text, "Shaft voltage at cruise, all variants");
  for (const char* id : {"plain", "dense-ring"})
    CHECK(std::ranges::count_if(
              lines, [&](const std::string& line) { return line.starts_with(id); }) == 1);
  CHECK(text.find("all variants") < text.find("Where it strikes, plain"));
  CHECK(text.find("Where it strikes, plain") < text.find("Shaft voltage at cruise, plain"));
}

TEST_CASE("the map has a letter a cell, a mark where the routes differ", "[derived]") {
  const std::vector<std::string> lines = block(ground_page(), "rpm ");
  REQUIRE(lines.size() > 3);
  CHECK(lines[0].starts_with("rpm      300   1500"));
  CHECK(lines[1].starts_with("-17.5 °C E* -' -#"));
  CHECK(lines[1].ends_with("never"));
  CHECK(lines[2].starts_with(" 22.5 °C c  p  -"));
  CHECK(lines[2].ends_with("617 rpm"));
  // A row that conducts at every speed has a word of its own.
  study::Findings f = sample("ground");
  f.variants[0].strike_map->conducting_below_rpm[1].reset();
  CHECK(ground_page(f).find("always") != std::string::npos);
}

TEST_CASE("time of the duties stands under the map, once where variants agree", "[derived]") {
  const std::string text = ground_page();
  CHECK(count(text, "22.5 °C 21 40 12") == 1);
  CHECK(count(text, "-17.5 °C +  19 ·") == 1);
  CHECK(count(text, "Time of the service mix in each cell: as above.") == 1);
  study::Findings apart = sample("ground");
  apart.variants[1].strike_map->cells[1][2].time_share = 0.231;
  CHECK(count(ground_page(apart), "as above.") == 0);
  study::Findings without = sample("ground");
  for (auto& variant : without.variants) variant.strike_map->duties.clear();
  CHECK(count(ground_page(without), "Time of the service mix") == 0);
}

TEST_CASE("a narrow page shows the map in blocks", "[derived]") {
  study::Findings f = sample("ground");
  const std::string narrow = ground_page(f, 32);
  CHECK(count(narrow, "conducts below") > count(ground_page(f), "conducts below"));
  for (const int width : {1, 10, 32, 72}) CHECK_NOTHROW(ground_page(f, width));
}

TEST_CASE("a discharge with its figures and what was published on such currents", "[derived]") {
  const std::string text = ground_page();
  const study::DischargeRow row = sample_discharge();
  for (const Interval& value : {row.peak_current_A, row.apparent_density_A_mm2, row.rate_per_s,
                                *row.rate_per_km, row.dose_rate_J_mm2_h, row.fallen_threshold_V}) {
    CAPTURE(print_interval(value));
    const std::string printed = print_interval(value);
    CHECK(text.find(printed.substr(0, printed.find(' '))) != std::string::npos);
  }
  CHECK(text.find("nJ") != std::string::npos);
  // Of what was published, the ranges that the density reaches.
  const Interval& density = row.apparent_density_A_mm2;
  for (const study::DensityStatement& statement : sample_density_statements()) {
    const bool reached =
        density.high >= statement.from_A_mm2 && density.low <= statement.up_to_A_mm2;
    CAPTURE(statement.statement);
    CHECK((flowing(text).find(statement.statement) != std::string::npos) == reached);
    CHECK((flowing(text).find(statement.source) != std::string::npos) == reached);
  }
  CHECK(text.find("The middle of the apparent density, 0.34 A/mm²,") != std::string::npos);
  study::Findings calm = sample("ground");
  for (auto& variant : calm.variants) variant.voltage[0].discharge.reset();
  CHECK(ground_page(calm).find("power of all discharges") == std::string::npos);
}

TEST_CASE("every path to the frame has a line and says what becomes of it", "[derived]") {
  const std::string text = ground_page();
  CHECK(text.find("struck first") != std::string::npos);
  CHECK(text.find("below its threshold") != std::string::npos);
  CHECK(text.find("conducts") != std::string::npos);
  CHECK(flowing(text).find(sample_voltage(true)[0].paths_in_words) != std::string::npos);
}

TEST_CASE("the spectrum takes at most twelve lines, each the strongest of its bins", "[derived]") {
  const std::vector<std::string> lines = block(ground_page(), "Strongest line");
  REQUIRE(lines.size() <= 3 + 1 + 12);  // sentence, heads with units, rule
  const auto bins = sample_spectrum();
  // Thirty bins make ten lines of three: without the path the first of three is the strongest.
  CHECK(std::ranges::any_of(lines, [&](const std::string& line) {
    return line.find(print_number(bins[3].without_V, 4)) != std::string::npos;
  }));
  CHECK(std::ranges::none_of(lines, [&](const std::string& line) {
    return line.find(print_number(bins[4].without_V, 4)) != std::string::npos;
  }));
}

TEST_CASE("the sentence on interference stands by every table of bands, once", "[derived]") {
  const std::string statement(study::band_statement());
  const std::string page = flowing(ground_page());
  CHECK(count(page, statement) == sample("ground").variants.size() + 1);
  // What may be said, what must be added.
  for (const char* part : {"With the entered impedance the model predicts", "lumped",
                           "may fall by less, not at all", "No class or limit is claimed."})
    CHECK(statement.find(part) != std::string::npos);
  for (const char* part : {"complies", "passes", "guarantee"})
    CHECK(statement.find(part) == std::string::npos);
  study::Findings silent = sample("ground");
  for (auto& variant : silent.variants) variant.voltage[0].bands.clear();
  CHECK(count(flowing(ground_page(silent)), statement) == 0);
}

TEST_CASE("the map as JSON: grids of one shape", "[derived]") {
  const Json map = Json::parse(report::json(sample("ground")))["variants"][1]["strike_map"];
  const study::StrikeMap sample_map = sample_strike_map();
  for (const char* grid :
       {"regime", "verdict", "verdict_without_credit", "verdict_by_fixed_threshold", "film_ratio",
        "held_V", "edge_V", "threshold_05_V", "threshold_50_V", "threshold_95_V", "time_share"}) {
    CAPTURE(grid);
    REQUIRE(map.at(grid).size() == sample_map.oil_degC.size());
    for (const Json& row : map.at(grid)) CHECK(row.size() == sample_map.shaft_speed_rpm.size());
  }
  CHECK(map["regime"][1][0] == "conducting");
  CHECK(map["threshold_50_V"][1][0].is_null());  // conducts: nothing holds
  CHECK(map["threshold_95_V"][0][1] == 21.4);
  CHECK(map["verdict_by_fixed_threshold"][0][0] == "possible");
  CHECK(map["duties"][0]["duty"] == "wltc-cold");
  CHECK(map["conducting_below_rpm"][1] == 617.4);
  study::Findings without = sample("ground");
  without.variants[0].strike_map.reset();
  CHECK_FALSE(Json::parse(report::json(without))["variants"][0].contains("strike_map"));
}

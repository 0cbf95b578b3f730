// `ohmdrag fit`: a measured run to parameters, and these back into a case.

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "fit_support.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;
using test::check_holds;
using test::check_refused;
using test::document_of;
using test::fitted;
using test::replaced;
namespace fs = std::filesystem;

namespace {

const std::string demo = test::in_source("cases/rig/warm-up.toml");

/// Constant 300 W into 12 kJ/K and 12 W/K from the ambient of 23 degC, once in 5 s.
std::string log_text(double duration_s = 3600.0) {
  std::string text = "t;oil;v\n";
  for (int t = 0; t <= duration_s; t += 5)
    text +=
        std::to_string(t) + ';' +
        std::to_string(23.0 + 25.0 * (1.0 - std::exp(-t / 1000.0)) + 0.05 * std::sin(1.7 * t * t)) +
        ";50\n";
  return text;
}

const std::string sidecar = R"([run]
kind = "sump-warm-up"
title = "Steady load"
specimen = "unit \"3\""
date = 2031-04-05
log = "log.csv"
ambient = "23 degC"
heat = "300 W ± 10 %"
[run.columns]
time = { name = "t", unit = "s" }
sump_temperature = { name = "oil", unit = "degC" }
)";

}  // namespace

TEST_CASE("the shipped run gives back what its generator put in", "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  CHECK(document.at("schema") == "ohmdrag-fit/1");
  const json& parameters = document.at("parameters");
  check_holds(parameters.at("heat_capacity_J_per_K"), 10800.0);
  check_holds(parameters.at("conductance_W_per_K"), 14.0);
  // The heat is uncertain, and both follow it; their ratio does not.
  CHECK(parameters.at("time_constant_s").at("value").get<double>() ==
        Approx(10800.0 / 14.0).epsilon(0.03));
  CHECK(parameters.at("heat_capacity_J_per_K").at("value").get<double>() ==
        Approx(10800.0).epsilon(0.03));
  CHECK(parameters.at("heat_relative_standard_uncertainty").at("value") > 0.05);
  const json& log = document.at("run").at("files").at(0);
  CHECK(log.at("name") == "warm-up.csv");
  CHECK(log.at("rows") == 1800);
  CHECK(log.at("sha256").get<std::string>().size() == 64);
}

TEST_CASE("a case that includes a fit counts with it and names the run", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", log_text());
  const fs::path entry = folder.path() / "fitted" / "sump.toml";
  const test::Ran fit = fitted(folder, sidecar, {"--out", entry.string()});
  CAPTURE(fit.err);
  REQUIRE(fit.status == 0);
  const std::string text = test::file_text(entry);
  CAPTURE(text);

  const std::string van = test::file_text(test::shipped_case("parcel-van"));
  const std::string bare = replaced(replaced(van, "heat_capacity = \"12 kJ/K ± 30 %\"\n", ""),
                                    "conductance = \"12 W/K ± 30 %\"\n", "");
  const auto line = [&](const std::string& key) {
    const std::size_t at = text.find(key + " = {");
    REQUIRE(at != std::string::npos);
    return text.substr(at, text.find('\n', at) - at) + '\n';
  };
  // The two were told together, and a case draws them together.
  REQUIRE(text.find("[[correlation]]") != std::string::npos);
  const std::string together = text.substr(text.find("[[correlation]]"));
  CHECK_THAT(together, Contains("keys = [\"sump.heat_capacity\", \"sump.conductance\"]"));
  const std::string included =
      folder.write("included.toml", "include = [\"fitted/sump.toml\"]\n" + bare).string();
  const std::string typed =
      folder
          .write("typed.toml", replaced(bare, "lubricant = \"thin-axle-oil\"\n",
                                        "lubricant = \"thin-axle-oil\"\n" + line("heat_capacity") +
                                            line("conductance")) +
                                   '\n' + together)
          .string();
  const auto energy_of = [](const std::string& file) {
    return document_of(test::ohmdrag({"energy", file, "--json", "--set", "study.samples=8"}))
        .at("variants");
  };
  const json with_include = energy_of(included);
  CHECK(with_include == energy_of(typed));
  CHECK(with_include != energy_of(test::shipped_case("parcel-van").string()));

  const test::Ran check = test::ohmdrag({"check", included, "--json"});
  const json values = json::parse(check.out);
  for (const json& row : values.at("rows")) {
    if (row.at("key") != "sump.heat_capacity" && row.at("key") != "sump.conductance") continue;
    CHECK(row.at("basis") == "measured");
    CHECK_THAT(row.at("source").get<std::string>(), Contains("run log.csv, unit \"3\""));
  }
  // The screen of the fit says the same.
  CHECK_THAT(fit.out, Contains("kJ/K"));
  CHECK_THAT(fit.err, Contains("wrote"));
}

TEST_CASE("the heat may be stated, logged or unknown", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", log_text());
  const json stated = document_of(fitted(folder, sidecar, {"--json"})).at("parameters");
  check_holds(stated.at("heat_capacity_J_per_K"), 12000.0);
  check_holds(stated.at("conductance_W_per_K"), 12.0);
  const json unknown =
      document_of(fitted(folder, replaced(sidecar, "300 W ± 10 %", "unknown"), {"--json"}))
          .at("parameters");
  CHECK(unknown.at("heat_capacity_J_per_K").is_null());
  check_holds(unknown.at("time_constant_s"), 1000.0);
  check_holds(unknown.at("final_rise_K"), 25.0);
  const json other =
      document_of(fitted(folder, sidecar, {"--json", "--set", "run.heat=600 W"})).at("parameters");
  check_holds(other.at("heat_capacity_J_per_K"), 24000.0);

  std::string with_column;
  for (const std::string& line : test::lines_of(log_text()))
    with_column += line + (line[0] == 't' ? ";heat\n" : ";300\n");
  folder.write("log.csv", with_column);
  const json logged = document_of(fitted(folder,
                                         replaced(sidecar, "heat = \"300 W ± 10 %\"\n",
                                                  "heat_factor = \"1 ± 10 %\"\n") +
                                             "heat = { name = \"heat\", unit = \"W\" }\n",
                                         {"--json"}))
                          .at("parameters");
  CHECK(logged.at("heat_capacity_J_per_K").at("high").get<double>() ==
        Approx(stated.at("heat_capacity_J_per_K").at("high").get<double>()).epsilon(1e-9));
}

TEST_CASE("a run that tells too little says so and writes nothing", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", log_text());
  const fs::path entry = folder.path() / "sump.toml";
  check_refused(
      fitted(folder, replaced(sidecar, "300 W ± 10 %", "unknown"), {"--out", entry.string()}),
      "tells neither heat capacity nor conductance");
  CHECK_FALSE(fs::exists(entry));
  folder.write("log.csv", log_text(150.0));
  const json document = document_of(fitted(folder, sidecar, {"--json"}));
  CHECK(document.at("parameters").at("conductance_W_per_K").is_null());
  CHECK_THAT(document.at("notes").dump(), Contains("only the heat capacity"));
}

TEST_CASE("the document of a fit follows its schema", "[derived]") {
  const test::Folder runs, documents;
  const auto keep = [&](const std::string& name, const test::Ran& ran) {
    CAPTURE(name, ran.err);
    CHECK(ran.status == 0);
    documents.write(name + ".json", ran.out);
  };
  keep("shipped", test::ohmdrag_once({"fit", demo, "--json"}));
  runs.write("log.csv", log_text());
  keep("stated-heat", fitted(runs, sidecar, {"--json"}));
  keep("unknown-heat", fitted(runs, replaced(sidecar, "300 W ± 10 %", "unknown"), {"--json"}));
  keep("steady-speed",
       fitted(runs,
              replaced(sidecar, "[run.columns]",
                       "air_stream = { at = \"50 km/h\", exponent = 0.7 }\n[run.columns]") +
                  "speed = { name = \"v\", unit = \"km/h\" }\n",
              {"--json"}));
  runs.write("log.csv", log_text(150.0));
  keep("short-log", fitted(runs, sidecar, {"--json"}));
  test::check_schema_of_fits(documents);
}

TEST_CASE("a bad run is refused in words", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", log_text());
  const auto [what, by, why] = GENERATE(table<std::string, std::string, std::string>({
      {"log = \"log.csv\"", "log = \"lgo.csv\"", "there is no such file"},
      {"name = \"oil\"", "name = \"oli\"", "there is no column \"oli\""},
      {"unit = \"degC\"", "unit = \"kW\"", "no unit of"},
      {"heat = \"300 W ± 10 %\"\n", "", "exactly one of heat, case, columns.heat"},
      {"heat = \"300 W ± 10 %\"", "heat = \"300 N\"", "a force"},
      {"ambient = \"23 degC\"\n", "", "exactly one of ambient"},
      {"specimen", "speciman", "missing"},
      {"heat = \"300 W ± 10 %\"", "case = \"none.toml\"\nvariant = \"plain\"", "need the speed"},
      {"kind = \"sump-warm-up\"", "kind = \"coast-down\"", "expected one of"},
      {"name = \"oil\"", "name = \"v\"", "the oil stays within"},
      {"unit = \"degC\"", "unit = \"K\"", "is the unit right"},
      {"heat = \"300 W ± 10 %\"",
       "heat = \"300 W\"\nair_stream = { at = \"50 km/h\", exponent = 1 }",
       "columns maps no speed"},
  }));
  CAPTURE(what, by);
  check_refused(fitted(folder, replaced(sidecar, what, by)), why);
}

TEST_CASE("a log that runs backwards is refused with its line", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", log_text() + "10;40;50\n");
  check_refused(fitted(folder, sidecar), "time runs back");
}

TEST_CASE("the template of a run works once a log lies beside it", "[derived]") {
  const test::Folder folder;
  const test::Ran fresh = test::ohmdrag({"new", "warm-up-run"});
  REQUIRE(fresh.status == 0);
  folder.write("warm-up.csv", log_text());
  const test::Ran ran = fitted(folder, fresh.out);
  CAPTURE(ran.err);
  CHECK(ran.status == 0);
  CHECK(ran.err.empty());
}

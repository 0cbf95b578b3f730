// `ohmdrag fit` of a shaft that an oscilloscope watched, and its figures back in a case.

#include <fmt/format.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "fit_support.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;
using test::check_holds;
using test::document_of;
using test::fitted;
using test::replaced;
namespace fs = std::filesystem;

namespace {

const std::string demo = test::in_source("cases/rig/shaft-voltage.toml");

/// A shaft of a tenth of a square wave of 400 V, 2 us from edge to edge, in ramps of 50 ns; with a
/// ripple in place of noise.
std::string record_text(const std::string& names = "t;cm;v", int samples = 4000) {
  std::string text = "Channels 1 and 2\n" + names + "\nus;V;V\n";
  for (int i = 0; i < samples; ++i) {
    const int phase = i % 400;
    const double up =
        phase < 200 ? std::min(1.0, phase / 5.0) : std::max(0.0, 1.0 - (phase - 200) / 5.0);
    text += fmt::format("{:.2f};{:.1f};{:.3f}\n", 0.01 * i,
                        400.0 * up - 200.0 + 0.5 * ((i * 7919) % 11 - 5) / 5.0,
                        40.0 * up - 20.0 + 0.05 * ((i * 104729) % 13 - 6) / 6.0);
  }
  return text;
}

const std::string sidecar = R"([run]
kind = "shaft-voltage"
title = "Rotor"
specimen = "machine \"4\""
date = 2031-07-08
log = "log.csv"
bandwidth = "200 MHz"
[run.columns]
time = { name = "t", unit = "us" }
shaft = { name = "v", unit = "V" }
common_mode = { name = "cm", unit = "V" }
)";

}  // namespace

TEST_CASE("the shipped records give back what their generator put in", "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  CHECK(document.at("kind") == "shaft-voltage");
  const json& parameters = document.at("parameters");
  check_holds(parameters.at("coupling_ratio"), 0.055);
  check_holds(parameters.at("winding_rotor_F"), 56.54e-12);
  check_holds(parameters.at("ringing_frequency_Hz"), 1.1e6);
  check_holds(parameters.at("ringing_quality"), 7.0);
  check_holds(parameters.at("ringing_share_of_step"), 0.3);
  check_holds(parameters.at("breakdown_median_V"), 18.0);
  check_holds(parameters.at("breakdown_spread_of_ln_V"), 0.25);
  const json& records = document.at("tables").at("records").at("rows");
  REQUIRE(records.size() == 2);
  CHECK(records[0].at("collapses") > 30);
  CHECK(records[1].at("collapses").is_null());
  CHECK(records[1].at("peak_after_edge_V") <
        0.3 * records[0].at("peak_after_edge_V").get<double>());
  CHECK(document.at("run").at("files").size() == 2);
  CHECK_THAT(document.at("cautions").dump(), Contains("High voltage and rotating shafts can kill"));
}

TEST_CASE("a case that includes a fitted record counts with it and names the run", "[derived]") {
  const test::Folder folder;
  const fs::path entry = folder.path() / "fitted" / "shaft.toml";
  const test::Ran fit = test::ohmdrag({"fit", demo, "--out", entry.string()});
  CAPTURE(fit.err);
  REQUIRE(fit.status == 0);
  const std::string text = test::file_text(entry);
  CAPTURE(text);
  const auto line = [&](const std::string& key) {
    const std::size_t at = text.find("\n" + key + " = {") + 1;
    REQUIRE(at != 0);
    return text.substr(at, text.find('\n', at) - at) + '\n';
  };
  const std::string van = test::file_text(test::shipped_case("parcel-van"));
  const std::string stated =
      "ringing = { frequency = \"2.2 MHz\", share_of_step = 0.3, quality = 10 }\n";
  const std::string bare =
      replaced(replaced(van, "winding_rotor = \"110 pF ± 30 %\"\n", ""), stated, "");
  const std::string included =
      folder.write("included.toml", "include = [\"fitted/shaft.toml\"]\n" + bare).string();
  const std::string of_inverter =
      "basis = \"customer\"\nsource = \"invented inverter data, sheet B\"\n";
  const std::string typed =
      folder
          .write("typed.toml", replaced(replaced(van, "winding_rotor = \"110 pF ± 30 %\"\n",
                                                 line("winding_rotor")),
                                        stated + of_inverter,
                                        of_inverter + "[inverter.ringing]\n" + line("frequency") +
                                            line("share_of_step") + line("quality")))
          .string();
  const auto voltages_of = [](const std::string& file) {
    return document_of(test::ohmdrag({"ground", file, "--json", "--set", "study.samples=8"}))
        .at("variants");
  };
  const json with_include = voltages_of(included);
  CHECK(with_include == voltages_of(typed));
  CHECK(with_include != voltages_of(test::shipped_case("parcel-van").string()));

  const json check = document_of(test::ohmdrag({"check", included, "--json"}));
  int named = 0;
  for (const json& row : check.at("rows")) {
    const std::string key = row.at("key");
    if (key != "coupling.winding_rotor" && key != "inverter.ringing.frequency") continue;
    ++named;
    CHECK(row.at("basis") == "measured");
    CHECK_THAT(row.at("source").get<std::string>(),
               Contains("run shaft-open.csv.gz and shaft-grounded.csv.gz"));
  }
  CHECK(named == 2);
}

TEST_CASE("a record of any instrument is read, and what it lacks is told", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", record_text());
  const json document = document_of(fitted(folder, sidecar, {"--json"}));
  check_holds(document.at("parameters").at("coupling_ratio"), 0.1);
  CHECK(document.at("parameters").at("breakdown_median_V").is_null());
  CHECK_THAT(document.at("notes").dump(), Contains("never its value"));
  CHECK_THAT(document.at("notes").dump(), Contains("state probe_capacitance"));

  // Without the common mode, by the link; all legs at once.
  const std::string alone =
      replaced(replaced(sidecar, "common_mode = { name = \"cm\", unit = \"V\" }\n", ""),
               "bandwidth", "dc_link = \"400 V ± 1 %\"\nlegs_at_an_edge = 3\nbandwidth");
  const json by_link = document_of(fitted(folder, alone, {"--json"}));
  check_holds(by_link.at("parameters").at("coupling_ratio"), 0.1);
}

TEST_CASE("a bad record of a shaft is refused in words", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", record_text());
  const auto [what, by, why] = GENERATE(table<std::string, std::string, std::string>({
      {"name = \"v\"", "name = \"w\"", "no line names all of"},
      {"unit = \"us\"", "unit = \"V\"", "no unit of"},
      {"name = \"v\", unit = \"V\" }\ncommon_mode = { name = \"cm\"",
       "name = \"cm\", unit = \"V\" }\ncommon_mode = { name = \"v\"", "are the columns swapped"},
      {"bandwidth = \"200 MHz\"", "legs_at_an_edge = 2", "expected 1"},
      {"bandwidth = \"200 MHz\"", "gain_factor = 2", "expected 1 with its spread"},
      {"bandwidth = \"200 MHz\"", "dc_link = \"40 V\"", "more than twice the link"},
      {"bandwidth", "band_width", "band_width"},
  }));
  CAPTURE(what, by);
  const test::Ran ran = fitted(folder, replaced(sidecar, what, by));
  CAPTURE(ran.err);
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Contains(why));
}

TEST_CASE("the template of a shaft-voltage run works once a record lies beside it", "[derived]") {
  const test::Folder folder;
  const test::Ran fresh = test::ohmdrag({"new", "shaft-voltage-run"});
  REQUIRE(fresh.status == 0);
  folder.write("shaft.csv", record_text("t;common;shaft"));
  const test::Ran ran = fitted(folder, fresh.out);
  CAPTURE(ran.err);
  CHECK(ran.status == 0);
}

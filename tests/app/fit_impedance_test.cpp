// `ohmdrag fit` of an impedance over frequency, and its figures back in a case.

#include <fmt/format.h>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <nlohmann/json.hpp>
#include <numbers>

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

const std::string demo = test::in_source("cases/rig/impedance-sweep.toml");

/// R and L with a ripple of 0.3 %, 41 frequencies a pass.
std::string log_text(double ohm, double henry = 50e-9) {
  std::string text = "f;re;im\n";
  for (int i = 0; i < 41; ++i) {
    const double f_Hz = 1e3 * std::pow(10.0, i / 10.0);
    const double ripple = 1.0 + 0.003 * std::sin(1.7 * i * i);
    text += fmt::format("{:.8g};{:.8g};{:.8g}\n", f_Hz, ohm * ripple,
                        2.0 * std::numbers::pi * f_Hz * henry * ripple);
  }
  return text;
}

const std::string sidecar = R"([run]
kind = "impedance-sweep"
title = "Ring"
specimen = "ring \"7\""
date = 2031-05-12
log = "log.csv"
running = true
variant = "dense-ring"
[run.columns]
frequency = { name = "f", unit = "Hz" }
real = { name = "re", unit = "ohm" }
imaginary = { name = "im", unit = "ohm" }
)";

}  // namespace

TEST_CASE("the shipped sweep gives back what its generator put in", "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  CHECK(document.at("kind") == "impedance-sweep");
  const json& parameters = document.at("parameters");
  check_holds(parameters.at("resistance_ohm"), 9.0);
  check_holds(parameters.at("inductance_H"), 45e-9);
  check_holds(parameters.at("film_resistance_ohm"), 26.0);
  check_holds(parameters.at("direct_resistance_ohm"), 35.0);
  CHECK(parameters.at("film_capacitance_F").at("value").get<double>() ==
        Approx(1.44e-9).epsilon(0.02));
  CHECK(document.at("run").at("files").size() == 3);
  CHECK(document.at("tables").at("points").at("rows").size() == 122);
}

TEST_CASE("a case that includes a fitted sweep counts with it and names the run", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", log_text(20.0, 500e-9));
  const fs::path entry = folder.path() / "fitted.toml";
  const test::Ran fit = fitted(folder, sidecar, {"--out", entry.string()});
  CAPTURE(fit.err);
  REQUIRE(fit.status == 0);
  const std::string text = test::file_text(entry);
  CAPTURE(text);
  CHECK_THAT(text, Contains("[[variant]]\nid = \"dense-ring\"\n[variant.grounding]"));
  const std::size_t at = text.find("resistance = {");
  REQUIRE(at != std::string::npos);
  const std::string line = text.substr(at, text.find('\n', at) - at);

  const std::string van = test::shipped_case("parcel-van").string();
  const std::string included =
      folder.write("included.toml", "include = [\"" + van + "\", \"fitted.toml\"]\n").string();
  const std::string typed =
      folder
          .write("typed.toml", "include = [\"" + van +
                                   "\"]\n[[variant]]\nid = \"dense-ring\"\n[variant.grounding]\n" +
                                   line + '\n')
          .string();
  const auto ground = [](const std::string& file) {
    return document_of(test::ohmdrag({"ground", file, "--json", "--set", "study.samples=8"}))
        .at("variants");
  };
  const json with_include = ground(included);
  CHECK(with_include == ground(typed));
  CHECK(with_include != ground(van));

  const json check = document_of(test::ohmdrag({"check", included, "--json"}));
  bool named = false;
  for (const json& row : check.at("rows")) {
    if (row.at("key") != "variant.dense-ring.grounding.resistance") continue;
    named = true;
    CHECK(row.at("basis") == "measured");
    CHECK_THAT(row.at("source").get<std::string>(), Contains("run log.csv, ring \"7\""));
  }
  CHECK(named);
}

TEST_CASE("a film and a pair write what a case reads", "[derived]") {
  const test::Folder folder;
  const fs::path entry = folder.path() / "fitted.toml";
  REQUIRE(test::ohmdrag({"fit", demo, "--out", entry.string()}).status == 0);
  const std::string text = test::file_text(entry);
  CAPTURE(text);
  CHECK_THAT(text, Contains("[variant.grounding.film]"));
  CHECK_THAT(text, Contains("scatter"));
  const std::string van = test::shipped_case("parcel-van").string();
  const test::Ran check = test::ohmdrag(
      {"check",
       folder.write("case.toml", "include = [\"" + van + "\", \"fitted.toml\"]\n").string()});
  CAPTURE(check.err);
  CHECK(check.status == 0);
}

TEST_CASE("a network file needs no columns", "[derived]") {
  const test::Folder folder;
  std::string text = "! invented\n# Hz S RI R 50\n";
  for (int i = 0; i < 41; ++i) {
    const double f_Hz = 1e5 * std::pow(10.0, i / 20.0);
    const std::complex<double> z{30.0, 2.0 * std::numbers::pi * f_Hz * 2e-7};
    const std::complex<double> s = (z - 50.0) / (z + 50.0);
    text += fmt::format("{:.9g} {:.9g} {:.9g}\n", f_Hz, s.real(), s.imag());
  }
  folder.write("log.s1p", text);
  const std::string run = sidecar.substr(0, sidecar.find("[run.columns]"));
  const json document =
      document_of(fitted(folder, replaced(run, "log.csv", "log.s1p"), {"--json"}));
  CHECK(document.at("parameters").at("resistance_ohm").at("value").get<double>() ==
        Approx(30.0).epsilon(1e-4));
  CHECK(document.at("parameters").at("inductance_H").at("value").get<double>() ==
        Approx(2e-7).epsilon(1e-4));
  CHECK(document.at("parameters").at("capacitance_F").is_null());
}

TEST_CASE("three pairs, a fixture and another level are read", "[derived]") {
  const test::Folder folder;
  folder.write("ab.csv", log_text(2.15, 60e-9));
  folder.write("bc.csv", log_text(1.75, 60e-9));
  folder.write("ca.csv", log_text(2.05, 60e-9));
  folder.write("short.csv", log_text(0.05, 10e-9));
  folder.write("high.csv", log_text(1.05, 60e-9));
  const json document = document_of(fitted(
      folder,
      replaced(sidecar, "log = \"log.csv\"",
               "pairs = { ab = \"ab.csv\", bc = \"bc.csv\", ca = \"ca.csv\" }\nlevel = \"20 mV\"\n"
               "other_level = { log = \"high.csv\", level = \"0.5 V\" }\n"
               "fixture = { short = \"short.csv\", changed_leads = \"2 nH\" }"),
      {"--json"}));
  const json& specimens = document.at("tables").at("specimens").at("rows");
  REQUIRE(specimens.size() == 3);
  const double truth[] = {1.2, 0.9, 0.8};
  for (std::size_t k = 0; k < 3; ++k)
    CHECK(specimens[k].at("resistance_ohm").at("mid").get<double>() ==
          Approx(truth[k]).epsilon(0.01));
  CHECK_THAT(document.at("warnings").dump(), Contains("depends on the level"));
  CHECK_THAT(document.at("warnings").dump(), Contains("short of the fixture"));
}

TEST_CASE("the document of a sweep follows its schema", "[derived]") {
  const test::Folder runs, documents;
  runs.write("log.csv", log_text(2.0));
  documents.write("demo.json", test::ohmdrag_once({"fit", demo, "--json"}).out);
  documents.write("own.json", fitted(runs, sidecar, {"--json"}).out);
  test::check_schema_of_fits(documents);
}

TEST_CASE("a bad sweep is refused in words", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", log_text(2.0));
  folder.write("two.s1p", "# Hz S RI R 50\n1 2 3 4 5 6 7 8 9\n");
  const auto [what, by, why] = GENERATE(table<std::string, std::string, std::string>({
      {"running = true\n", "", "true if the shaft turned"},
      {"log.csv", "none.csv", "no such file"},
      {"log.csv", "two.s1p", "has 9 numbers"},
      {"name = \"im\"", "name = \"imag\"", "imag"},
      {"unit = \"Hz\"", "unit = \"V\"", "no unit of"},
      {"imaginary =", "phase =", "either magnitude and phase or real and imaginary"},
      {"running = true", "running = true\nin_series = 3", "expected 1, or 2 alike"},
      {"running = true", "running = true\nother_level = { log = \"log.csv\", level = \"1 V\" }",
       "the level of the log"},
      {"name = \"f\"", "name = \"re\"", "swapped"},
      {"log = \"log.csv\"\n", "", "exactly one of log, pairs"},
      {"running = true", "running = true\nfixture = { load = \"log.csv\" }", "standard"},
      {"running = true", "running = true\nfixture = { load = \"log.csv\", standard = \"50 ohm\" }",
       "log all three"},
  }));
  CAPTURE(what, by);
  const test::Ran ran = fitted(folder, replaced(sidecar, what, by));
  CAPTURE(ran.err);
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK_THAT(ran.err, Contains(why));
}

TEST_CASE("a sweep that names no variant writes no entry", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", log_text(2.0));
  const fs::path entry = folder.path() / "fitted.toml";
  const test::Ran ran = fitted(folder, replaced(sidecar, "variant = \"dense-ring\"\n", ""),
                               {"--out", entry.string()});
  CHECK(ran.status == 2);
  CHECK_THAT(ran.err, Contains("names no variant"));
  CHECK_FALSE(fs::exists(entry));
}

TEST_CASE("the template of a sweep works once a log lies beside it", "[derived]") {
  const test::Folder folder;
  const test::Ran fresh = test::ohmdrag({"new", "impedance-run"});
  REQUIRE(fresh.status == 0);
  std::string text = "f;Z;phase\n";
  for (int i = 0; i < 41; ++i)
    text += fmt::format("{:.6g};{:.6g};{:.4g}\n", std::pow(10.0, i / 10.0),
                        20.0 * (1.0 + 0.002 * std::sin(1.7 * i * i)), 0.1 * std::sin(2.3 * i * i));
  folder.write("sweep.csv", text);
  const test::Ran ran = fitted(folder, fresh.out);
  CAPTURE(ran.err);
  CHECK(ran.status == 0);
  CHECK(ran.err.empty());
}

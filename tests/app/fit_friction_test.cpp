// `ohmdrag fit` of friction over speed and of impedance over force, and the entries back into a
// case.

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

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

const std::string friction_demo = test::in_source("cases/rig/friction.toml");
const std::string force_demo = test::in_source("cases/rig/force.toml");

/// Settled readings of a ring of 0.2 at 10 N/m on 40 mm, 3 mN m of it the rig's; a hand's noise.
std::string readings_text() {
  std::string text = "n,torque,ring\n";
  int turn = 0;
  for (const char* ring : {"A", "B", "C"})
    for (const double rpm : {20.0, 100.0, 500.0, 2000.0, 6000.0, 10000.0}) {
      const double noise = 0.01 * std::sin(2.4 * ++turn);
      text += fmt::format("{:.0f},{:.4f},{}\n", rpm, 3.0 + 5.0265 * (1.0 + noise), ring);
    }
  return text;
}

const std::string friction_run = R"toml(
[run]
kind = "friction"
title = "Ring over speed"
specimen = "ring 7"
date = 2031-04-05
log = "log.csv"
contact = "textile-ring-dense"
friction_law = "constant"
diameter = "40 mm"
line_force = "10 N/m ± 5 %"
tare = "3 mN*m ± 0.1 mN*m"
[run.columns]
speed = { name = "n", unit = "1/min" }
torque = { name = "torque", unit = "mN*m" }
specimen = { name = "ring" }
)toml";

std::string forces_text(double exponent) {
  std::string text = "f;z;m\n";
  int turn = 0;
  for (const double force : {3.0, 5.0, 8.0, 12.0, 18.0, 25.0, 18.0, 12.0, 8.0, 5.0, 3.0})
    text += fmt::format(
        "{};{:.3f};{:.4f}\n", force,
        20.0 * std::pow(force / 10.0, -exponent) * (1.0 + 0.01 * std::sin(2.4 * ++turn)),
        5.0 * std::pow(force / 10.0, 0.9));
  return text;
}

const std::string force_run = R"toml(
[run]
kind = "force"
title = "Ring over force"
specimen = "ring 7"
date = 2031-04-05
log = "log.csv"
contact = "textile-ring-dense"
diameter = "40 mm"
reference = "10 N/m"
[run.columns]
line_force = { name = "f", unit = "N/m" }
impedance = { name = "z", unit = "ohm" }
torque = { name = "m", unit = "mN*m" }
)toml";

json figures_of_case(const std::string& command, const std::string& file) {
  return document_of(test::ohmdrag({command, file, "--json", "--set", "study.samples=8"}))
      .at("variants");
}

/// What the case says of a number.
json checked(const std::string& file, const std::string& key) {
  const json document = document_of(test::ohmdrag({"check", file, "--json"}));
  for (const json& row : document.at("rows"))
    if (row.at("key") == key) return row;
  FAIL("no number " << key);
  return {};
}

}  // namespace

TEST_CASE("the shipped friction run gives back what its generator put in", "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", friction_demo, "--json"}));
  const json& told = document.at("parameters");
  check_holds(told.at("friction"), 0.19);
  check_holds(told.at("up_less_down_over_mean"), 0.03);
  check_holds(told.at("part_scatter_over_mean"), 0.056);  // of 1.05, 0.94, 1.01
  const json& tables = document.at("tables");
  REQUIRE(tables.at("specimens").at("rows").size() == 3);
  check_holds(json{{"low", tables.at("specimens").at("rows").at(0).at("level").at("low")},
                   {"high", tables.at("specimens").at("rows").at(0).at("level").at("high")}},
              1.05);
  CHECK(tables.at("curve").at("rows").size() == 8);
  CHECK_THAT(tables.at("laws").dump(), Contains("constant coefficient (named)"));
  CHECK(tables.at("readings").at("rows").size() >= 45);
  CHECK(document.at("run").at("files").size() == 2);
  // The tare was read once: what it may be off speaks for one law or the other.
  REQUIRE(document.at("warnings").size() == 1);
  CHECK_THAT(document.at("warnings").dump(), Contains("the tare may move that by"));
}

TEST_CASE("the shipped force run gives back what its generator put in", "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", force_demo, "--json"}));
  const json& told = document.at("parameters");
  check_holds(told.at("impedance_force_exponent_m"), 0.12);
  check_holds(told.at("torque_force_exponent"), 0.92);
  check_holds(told.at("impedance_at_reference_ohm"), 1400.0);
  check_holds(told.at("torque_at_reference_Nm"), 0.002);
  CHECK_THAT(document.at("notes").dump(), Contains("Force is the wrong lever"));
}

TEST_CASE("a case that includes a friction fit counts with it and names the run", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", readings_text());
  const fs::path entry = folder.path() / "fitted.toml";
  const test::Ran fit = fitted(folder, friction_run, {"--out", entry.string()});
  CAPTURE(fit.err);
  REQUIRE(fit.status == 0);
  const std::string text = test::file_text(entry);
  CAPTURE(text);
  const std::size_t table = text.find("[contact.textile-ring-dense]");
  REQUIRE(table != std::string::npos);
  const std::string van = test::file_text(test::shipped_case("parcel-van"));
  const std::string included =
      folder.write("included.toml", "include = [\"fitted.toml\"]\n" + van).string();
  const std::string typed = folder.write("typed.toml", van + text.substr(table)).string();
  const json with_include = figures_of_case("energy", included);
  CHECK(with_include == figures_of_case("energy", typed));
  CHECK(with_include != figures_of_case("energy", test::shipped_case("parcel-van").string()));
  const json friction = checked(included, "contact.textile-ring-dense.friction");
  CHECK(friction.at("basis") == "measured");
  CHECK_THAT(friction.at("source").get<std::string>(), Contains("run log.csv, ring 7"));
}

TEST_CASE("a case that includes a force fit counts with it and names the run", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", forces_text(0.6));
  const fs::path entry = folder.path() / "fitted.toml";
  const test::Ran fit = fitted(folder, force_run, {"--out", entry.string()});
  CAPTURE(fit.err);
  REQUIRE(fit.status == 0);
  CHECK_THAT(fit.out, Contains("torque grows faster than the impedance falls"));
  const std::string text = test::file_text(entry);
  CAPTURE(text);
  const std::size_t table = text.find("[contact.textile-ring-dense.resistance]");
  REQUIRE(table != std::string::npos);
  const std::string van = test::file_text(test::shipped_case("parcel-van"));
  const std::string included =
      folder.write("included.toml", "include = [\"fitted.toml\"]\n" + van).string();
  const std::string typed = folder.write("typed.toml", van + text.substr(table)).string();
  const json with_include = figures_of_case("ground", included);
  CHECK(with_include == figures_of_case("ground", typed));
  CHECK(with_include != figures_of_case("ground", test::shipped_case("parcel-van").string()));
  const json exponent = checked(included, "contact.textile-ring-dense.resistance.film_exponent");
  CHECK(exponent.at("basis") == "measured");
  CHECK_THAT(exponent.at("source").get<std::string>(), Contains("run log.csv, ring 7"));
}

TEST_CASE("friction may be given as power, with a run of the rig alone", "[derived]") {
  const test::Folder folder;
  std::string log = "rpm;watt\n", tare = "rpm;watt\n";
  for (const double rpm : {20.0, 100.0, 500.0, 2000.0, 6000.0, 10000.0}) {
    const double omega = rpm * std::numbers::pi / 30.0;
    log += fmt::format("{};{:.6f}\n", rpm, (3.0 + 5.0265) * 1e-3 * omega);
    tare += fmt::format("{};{:.6f}\n", rpm, 3.0 * 1e-3 * omega);
  }
  folder.write("log.csv", log);
  folder.write("tare.csv", tare);
  std::string run =
      replaced(friction_run, "tare = \"3 mN*m ± 0.1 mN*m\"", "tare_log = \"tare.csv\"");
  run = replaced(run, "{ name = \"n\"", "{ name = \"rpm\"");
  run = replaced(run, "torque = { name = \"torque\", unit = \"mN*m\" }",
                 "power = { name = \"watt\", unit = \"W\" }");
  run = replaced(run, "specimen = { name = \"ring\" }\n", "");
  const json document = document_of(fitted(folder, run, {"--json"}));
  CHECK(document.at("parameters").at("friction").at("value").get<double>() ==
        Approx(0.2).epsilon(1e-3));
  CHECK(document.at("run").at("files").size() == 2);
}

TEST_CASE("a lip in oil takes the viscosity of its lubricant", "[derived]") {
  const test::Folder folder;
  std::string log = "n;torque;temp\n";
  int turn = 0;
  for (const double degC : {60.0, 80.0})  // torque with the cube root of speed, as a full film
    for (const double rpm : {1000.0, 2000.0, 4000.0, 6000.0, 9000.0, 12000.0})
      log += fmt::format(
          "{};{:.4f};{}\n", rpm,
          8.0 * std::cbrt(rpm) * (degC < 70.0 ? 1.0 : 0.85) * (1.0 + 0.01 * std::sin(2.4 * ++turn)),
          degC);
  folder.write("log.csv", log);
  std::string run = replaced(friction_run, "textile-ring-dense", "standard-lip");
  run = replaced(run, "\"constant\"", "\"mixed-film\"");
  run = replaced(run, "\"10 N/m ± 5 %\"", "\"0.1 N/mm ± 5 %\"\nlubricant = \"thin-axle-oil\"");
  run = replaced(run, "specimen = { name = \"ring\" }",
                 "temperature = { name = \"temp\", unit = \"degC\" }");
  const json document = document_of(fitted(folder, run, {"--json"}));
  const double film = document.at("parameters").at("film_coefficient").at("value").get<double>();
  CHECK(film > 2.0);
  CHECK(film < 9.0);
  CHECK_THAT(document.at("warnings").dump(), Contains("film coefficient comes out too small"));
  const json warmer = document_of(
      fitted(folder, replaced(run, "[run.columns]", "contact_rise = \"0.5 K/W\"\n[run.columns]"),
             {"--json"}));
  CHECK(warmer.at("parameters").at("film_coefficient").at("value").get<double>() > film);
  CHECK_THAT(warmer.at("warnings").dump(), !Contains("comes out too small"));
}

TEST_CASE("the documents of friction and force follow the schema", "[derived]") {
  const test::Folder runs, documents;
  const auto keep = [&](const std::string& name, const test::Ran& ran) {
    CAPTURE(name, ran.err);
    CHECK(ran.status == 0);
    documents.write(name + ".json", ran.out);
  };
  keep("friction", test::ohmdrag_once({"fit", friction_demo, "--json"}));
  keep("force", test::ohmdrag_once({"fit", force_demo, "--json"}));
  runs.write("log.csv", readings_text());
  keep("readings", fitted(runs, friction_run, {"--json"}));
  keep("pair",
       fitted(runs, replaced(friction_run, "diameter", "elements = 2\ndiameter"), {"--json"}));
  runs.write("log.csv", forces_text(0.05));
  keep("wrong-lever", fitted(runs, force_run, {"--json"}));
  test::check_schema_of_fits(documents);
}

TEST_CASE("a bad friction run is refused in words", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", readings_text());
  const auto [what, by, why] = GENERATE(table<std::string, std::string, std::string>({
      {"unit = \"mN*m\"", "unit = \"N*m\"", "are the units right"},
      {"name = \"n\", unit = \"1/min\"", "name = \"n\", unit = \"mN*m\"", "no unit of"},
      {"friction_law = \"constant\"", "friction_law = \"mixed-film\"", "it runs dry"},
      {"friction_law = \"constant\"", "friction_law = \"sticky\"", "expected one of constant"},
      {"line_force = \"10 N/m ± 5 %\"\n", "", "expected exactly one of line_force"},
      {"tare = \"3 mN*m", "tare = \"30 mN*m", "is the tare that of another rig"},
      {"diameter = \"40 mm\"", "diameter = \"40 mm\"\nelements = 3", "expected 1, or 2"},
      {"contact = \"textile-ring-dense\"", "contact = \"a.b\"", "the name of an entry"},
      {"torque = { name = \"torque\", unit = \"mN*m\" }\n", "", "expected torque or power"},
      {"diameter = \"40 mm\"", "diameter = \"40 mm\"\nrows = \"samples\"", "found over time"},
      {"diameter = \"40 mm\"", "diameter = \"40 mm\"\nlubricant = \"olive\"", "no such lubricant"},
  }));
  CAPTURE(what, by);
  check_refused(fitted(folder, replaced(friction_run, what, by)), why);
}

TEST_CASE("a bad force run is refused in words", "[derived]") {
  const test::Folder folder;
  folder.write("log.csv", forces_text(0.6));
  const auto [what, by, why] = GENERATE(table<std::string, std::string, std::string>({
      {"unit = \"N/m\"", "unit = \"N/mm\"", "is the unit right"},
      {"line_force = {", "force = {", "no unit of"},
      {"impedance = { name = \"z\"", "impedance = { name = \"q\"", "no line names all of"},
      {"diameter = \"40 mm\"", "diameter = \"40 mm\"\nlead = \"100 ohm\"", "nothing is left"},
      {"reference = \"10 N/m\"", "reference = \"10 N\"", "a force"},
  }));
  CAPTURE(what, by);
  check_refused(fitted(folder, replaced(force_run, what, by)), why);
}

TEST_CASE("the templates of friction and force work once a log lies beside them", "[derived]") {
  const test::Folder folder;
  const test::Ran friction = test::ohmdrag({"new", "friction-run"});
  REQUIRE(friction.status == 0);
  folder.write("friction.csv", readings_text());
  const test::Ran first = fitted(folder, friction.out);
  CAPTURE(first.err);
  CHECK(first.status == 0);
  CHECK(first.err.empty());
  const test::Ran force = test::ohmdrag({"new", "force-run"});
  REQUIRE(force.status == 0);
  folder.write("force.csv",
               replaced(replaced(forces_text(0.5), "f;z", "force;z"), ";m\n", ";torque\n"));
  const test::Ran second = fitted(folder, replaced(force.out, "unit = \"N/mm\"", "unit = \"N/m\""));
  CAPTURE(second.err);
  CHECK(second.status == 0);
}

// `ohmdrag fit` of specimens over hours, and the entry back into a case.

#include <catch2/catch.hpp>
#include <cmath>
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

const std::string demo = test::in_source("cases/rig/endurance.toml");

std::string log_text() { return test::file_text(test::in_source("cases/rig/endurance.csv")); }

/// The generator's middle part.
double truth_ohm(double hours) { return 31.0 * std::pow(1.0 + hours / 18.0, 0.27); }

/// A ring without what a run tells of its resistance.
const std::string ring = R"toml(
[contact.tested-ring]
kind = "ring"
title = "Ring that was tested"
basis = "assumed"
source = "invented"
line_force = "0.010 N/mm ± 20 %"
contact_width = "4 mm"
friction = 0.2
body_conductivity = "0.2 W/(m*K)"
body_reach = "8 mm"
[contact.tested-ring.resistance]
count_exponent = 0.5
film_exponent = 0.75
)toml";

}  // namespace

TEST_CASE("the shipped endurance run gives back what its generator put in", "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  CHECK(document.at("kind") == "endurance");
  const json& told = document.at("parameters");
  check_holds(told.at("impedance_at_begin_ohm"), truth_ohm(1.0));
  check_holds(told.at("impedance_at_service_ohm"), truth_ohm(1500.0));
  check_holds(told.at("growth_exponent"), 0.27);
  check_holds(told.at("time_constant_s"), 18.0 * 3600.0);
  check_holds(told.at("scatter_factor"), std::exp(1.96 * 0.20));
  check_holds(told.at("torque_fall_per_decade"), 0.05);
  check_holds(told.at("crossing_middle_part_s"),
              3600.0 * 18.0 * (std::pow(120.0 / 31.0, 1.0 / 0.27) - 1.0));
  CHECK(document.at("tables").at("specimens").at("rows").size() == 6);
  CHECK_THAT(document.at("tables").at("specimens_needed").dump(), Contains("45"));
  CHECK_THAT(document.at("model").get<std::string>(), Contains("power law"));
  CHECK_FALSE(document.at("cautions").empty());
}

TEST_CASE("a case that includes an endurance fit counts as one with its values typed in",
          "[derived]") {
  const test::Folder folder;
  const fs::path entry = folder.path() / "fitted.toml";
  const test::Ran fit = test::ohmdrag({"fit", demo, "--out", entry.string()});
  CAPTURE(fit.err);
  REQUIRE(fit.status == 0);
  const std::string text = test::file_text(entry);
  CAPTURE(text);
  CHECK_THAT(text, Contains("[contact.tested-ring.resistance]"));
  const auto line = [&](const std::string& key) {
    const std::size_t at = text.find("\n" + key + " = ");
    REQUIRE(at != std::string::npos);
    return text.substr(at + 1, text.find('\n', at + 1) - at);
  };
  const std::string van = replaced(test::file_text(test::shipped_case("parcel-van")),
                                   "element = \"textile-ring-dense\"", "element = \"tested-ring\"");
  const std::string included =
      folder.write("included.toml", "include = [\"fitted.toml\"]\n" + van + ring).string();
  const std::string typed =
      folder
          .write("typed.toml", van + ring + line("bulk") + line("film") + line("at_line_force") +
                                   line("at_diameter") + line("end_of_service_factor"))
          .string();
  const auto shaft_voltage_of = [](const std::string& file) {
    return document_of(test::ohmdrag({"ground", file, "--json", "--set", "study.samples=8"}))
        .at("variants");
  };
  const json with_include = shaft_voltage_of(included);
  CHECK(with_include == shaft_voltage_of(typed));
  CHECK(with_include != shaft_voltage_of(test::shipped_case("parcel-van").string()));

  bool seen = false;
  const test::Ran check = test::ohmdrag({"check", included, "--json"});
  const json checked = json::parse(check.out);
  for (const json& row : checked.at("rows")) {
    if (row.at("key") != "contact.tested-ring.resistance.film") continue;
    seen = true;
    CHECK(row.at("basis") == "measured");
    CHECK_THAT(row.at("source").get<std::string>(), Contains("run endurance.csv, invented ring"));
    CHECK_THAT(row.at("source").get<std::string>(), Contains("6 specimens, power law"));
  }
  CHECK(seen);
}

TEST_CASE("what an endurance run does not say is not written", "[derived]") {
  const test::Folder folder;
  folder.write("endurance.csv", log_text());
  const std::string sidecar = test::file_text(demo);
  const fs::path entry = folder.path() / "entry.toml";
  const auto written = [&](const std::string& run) {
    const test::Ran ran = fitted(folder, run, {"--out", entry.string()});
    CAPTURE(ran.err);
    REQUIRE(ran.status == 0);
    return test::file_text(entry);
  };
  const std::string loose = written(replaced(sidecar, "force_held = true", "force_held = false"));
  CHECK_THAT(loose, Contains("film = "));
  CHECK_THAT(loose, !Contains("end_of_service_factor = "));
  CHECK_THAT(loose, Contains("The force was not held"));
  const std::string unreferred = written(replaced(sidecar, "diameter = \"40 mm\"\n", ""));
  CHECK_THAT(unreferred, !Contains("film = "));
  CHECK_THAT(unreferred, Contains("end_of_service_factor = "));
  check_refused(fitted(folder, replaced(sidecar, "contact = \"tested-ring\"\n", ""),
                       {"--out", entry.string()}),
                "names no contact");
}

TEST_CASE("specimens come in one log or in a log each", "[derived]") {
  const test::Folder folder;
  folder.write("endurance.csv", log_text());
  const std::string sidecar = test::file_text(demo);
  const json together = document_of(fitted(folder, sidecar, {"--json"})).at("parameters");
  std::string parts = replaced(replaced(sidecar, "log = \"endurance.csv\"\n", ""),
                               "specimen = { name = \"ring\" }\n", "");
  for (int lot = 4; lot <= 9; ++lot) {
    const std::string name = "lot " + std::to_string(lot);
    std::string text = "t_h,Z_ohm,T_mNm\n";
    for (const std::string& line : test::lines_of(log_text()))
      if (line.starts_with(name + ',')) text += line.substr(name.size() + 1) + '\n';
    folder.write(name + ".csv", text);
    parts += "[[run.part]]\nid = \"" + name + "\"\nlog = \"" + name + ".csv\"\n";
  }
  CHECK(document_of(fitted(folder, parts, {"--json"})).at("parameters") == together);
}

TEST_CASE("two contacts in series are halved", "[derived]") {
  const test::Folder folder;
  folder.write("endurance.csv", log_text());
  const json document = document_of(
      fitted(folder, replaced(test::file_text(demo), "force_held", "elements = 2\nforce_held"),
             {"--json"}));
  check_holds(document.at("parameters").at("impedance_at_begin_ohm"), 0.5 * truth_ohm(1.0));
  CHECK_THAT(document.at("notes").dump(), Contains("2 contacts in series"));
}

TEST_CASE("the run-in is left out and said", "[derived]") {
  const test::Folder folder;
  folder.write("endurance.csv", log_text());
  const json document = document_of(
      fitted(folder, replaced(test::file_text(demo), "limit =", "run_in = \"10 h\"\nlimit ="),
             {"--json"}));
  CHECK_THAT(document.at("run").at("conditions").dump(), Contains("30 readings before 10 h"));
}

TEST_CASE("documents of endurance runs follow their schema", "[derived]") {
  const test::Folder runs, documents;
  runs.write("endurance.csv", log_text());
  const auto keep = [&](const std::string& name, const test::Ran& ran) {
    CAPTURE(name, ran.err);
    CHECK(ran.status == 0);
    documents.write(name + ".json", ran.out);
  };
  const std::string sidecar = test::file_text(demo);
  keep("shipped", test::ohmdrag_once({"fit", demo, "--json"}));
  keep("no-crossing", fitted(runs, replaced(sidecar, "120 ohm", "9 kohm"), {"--json"}));
  keep("too-far", fitted(runs, replaced(sidecar, "1500 h", "9000 h"), {"--json"}));
  keep("nothing-asked", fitted(runs,
                               replaced(replaced(sidecar, "limit = \"120 ohm\"\n", ""),
                                        "service = \"1500 h\"\n", ""),
                               {"--json"}));
  test::check_schema_of_fits(documents);
}

TEST_CASE("a bad endurance run is refused in words", "[derived]") {
  const test::Folder folder;
  folder.write("endurance.csv", log_text());
  const auto [what, by, why] = GENERATE(table<std::string, std::string, std::string>({
      {"name = \"t_h\"", "name = \"Z_ohm\"", "Are hours and impedance swapped"},
      {"unit = \"ohm\"", "unit = \"N\"", "no unit of"},
      {"specimen = { name = \"ring\" }\n", "", "time runs back"},
      {"share = 0.95", "share = 95", "expected a share between 0 and 1"},
      {"limit = \"120 ohm\"", "limit = \"120 N\"", "a force"},
      {"share = 0.95", "law = \"parabolic\"", "expected one of constant, power"},
      {"log = \"endurance.csv\"\n", "", "expected either one log"},
      {"share = 0.95", "elements = 3", "expected 1, or 2 on one shaft"},
      {"share = 0.95", "shares = 0.95", "shares"},
  }));
  CAPTURE(what, by);
  check_refused(fitted(folder, replaced(test::file_text(demo), what, by)), why);
}

TEST_CASE("the template of an endurance run works once a log lies beside it", "[derived]") {
  const test::Folder folder;
  const test::Ran fresh = test::ohmdrag({"new", "endurance-run"});
  REQUIRE(fresh.status == 0);
  folder.write("endurance.csv", replaced(log_text(), "ring,t_h,Z_ohm", "specimen,t,Z"));
  const test::Ran ran = fitted(folder, fresh.out);
  CAPTURE(ran.err);
  CHECK(ran.status == 0);
  CHECK(ran.err.empty());
  CHECK_THAT(ran.out, Contains("law"));
}

TEST_CASE("an entry from one specimen says that it knows no other", "[derived]") {
  const test::Folder folder;
  std::string one = "ring,t_h,Z_ohm,T_mNm\n";
  for (const std::string& line : test::lines_of(log_text()))
    if (line.starts_with("lot 6,")) one += line + '\n';
  folder.write("endurance.csv", one);
  const fs::path entry = folder.path() / "entry.toml";
  const test::Ran ran = fitted(folder, test::file_text(demo), {"--out", entry.string()});
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  CHECK_THAT(test::file_text(entry), Contains("One specimen: the spread is that of its readings"));
  CHECK_THAT(test::file_text(entry), !Contains("scatter ="));
  CHECK_THAT(ran.out, Contains("how parts differ is not told"));
}

// `ohmdrag fit` of a contact on a rig against the same contact in its application.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "fit_support.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;
using test::document_of;
using test::replaced;

namespace {

const std::string demo = test::in_source("cases/rig/comparison.toml");
const std::string van = test::in_source("cases/parcel-van/case.toml");

std::string sidecar() { return replaced(test::file_text(demo), "../parcel-van/case.toml", van); }

test::Ran compared(const std::string& run, const test::Arguments& more = {}) {
  const test::Folder folder;
  return test::fitted(folder, run, more);
}

std::string quality_of(const json& document, const std::string& label) {
  for (const json& row : document.at("quality"))
    if (row.at("label") == label) return row.at("text");
  return "nothing";
}

double value_of(const json& document, const char* key) {
  return document.at("parameters").at(key).at("value");
}

}  // namespace

TEST_CASE("three wear points on a short shaft run hotter than the application", "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  CHECK(document.at("run").at("files").empty());
  CHECK(document.at("tables").at("elements").at("rows").size() == 3);
  const json& rows = document.at("tables").at("temperatures").at("rows");
  REQUIRE(rows.size() == 4);
  for (std::size_t i = 1; i < rows.size(); ++i)
    CHECK(rows[i].at("rig_K").at("mid") > rows[i - 1].at("rig_K").at("mid"));
  // Equal sliding speed of 45 mm.
  CHECK(rows[1].at("sliding_m_per_s").get<double>() == Approx(7.0686).epsilon(1e-4));
}

TEST_CASE("heat of the rig: what goes in comes out", "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  double friction = 0.0;
  for (const json& row : document.at("tables").at("elements").at("rows"))
    friction += row.at("power_W").get<double>();
  const std::string heat = quality_of(document, "Heat of the rig");
  double in = 0.0, rpm = 0.0, oil = 0.0, air = 0.0, room = 0.0;
  REQUIRE(std::sscanf(heat.c_str(),
                      "%lf W of friction at %lf 1/min: %lf W into the oil, %lf W into the air, "
                      "which gives %lf W to the room",
                      &in, &rpm, &oil, &air, &room) == 5);
  CHECK(in == Approx(friction).epsilon(1e-3));
  CHECK(oil + air == Approx(in).epsilon(2e-3));
  CHECK(room == Approx(air).epsilon(1e-3));
}

TEST_CASE("whether the reading is an upper bound follows the sign of the coefficient",
          "[derived]") {
  // Carbon falls as it warms: on the hotter rig it reads a little lower.
  const json carbon = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  CHECK(value_of(carbon, "hotter_K") > 10.0);
  CHECK(value_of(carbon, "reading_factor") < 1.0);
  CHECK_THAT(quality_of(carbon, "Upper bound"), Contains("With an allowance of 4.3 %"));
  CHECK_THAT(quality_of(carbon, "Upper bound"), Contains("Common practice, no source"));
  CHECK_THAT(quality_of(carbon, "Influences"), Contains("grows faster on the rig"));

  // A thicker shaft spreads the ring over more circumference.
  const json thick = document_of(
      compared(replaced(sidecar(), "diameter = \"45 mm\"", "diameter = \"60 mm\""), {"--json"}));
  CHECK_THAT(quality_of(thick, "Upper bound"), Contains("no upper bound"));

  const json cool = document_of(compared(
      replaced(sidecar(), "oil_temperature = \"90 ± 5 degC\"", "oil_temperature = \"40 degC\""),
      {"--json"}));
  CHECK(value_of(cool, "hotter_K") < 0.0);
  CHECK_THAT(quality_of(cool, "Upper bound"), Contains("films grow more slowly on the cooler rig"));

  // The same ring with the coefficient of a metal.
  const test::Folder folder;
  folder.write("case.toml", test::file_text(van) +
                                "\n[contact.textile-ring-dense.resistance.running]\n"
                                "temperature_coefficient = \"0.004 1/K ± 0.0005 1/K\"\n");
  const json metal = document_of(test::ohmdrag(
      {"fit", folder.write("run.toml", replaced(sidecar(), van, "case.toml")).string(), "--json"}));
  CHECK(value_of(metal, "reading_factor") > 1.0);
  CHECK_THAT(quality_of(metal, "Upper bound"), Contains("is an upper bound for the application"));
}

TEST_CASE("a thinner shaft reads higher by its diameter alone", "[derived]") {
  const std::string cool = replaced(sidecar(), "diameter = \"45 mm\"", "diameter = \"30 mm\"");
  const json thin = document_of(compared(cool, {"--json"}));
  const json thick = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  CHECK(value_of(thin, "reading_factor") / value_of(thick, "reading_factor") ==
        Approx(1.5).epsilon(0.05));
}

TEST_CASE("the programme slides the way of the service at its mean pressure-velocity",
          "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  const json& rows = document.at("tables").at("programme").at("rows");
  REQUIRE(rows.size() == 5);
  CHECK(rows[0].at("pressure_velocity_acceleration").get<double>() == Approx(1.0).epsilon(1e-9));
  double way = 0.0;
  for (const json& row : rows) {
    const double here =
        row.at("sliding_m_per_s").get<double>() * row.at("for_distance_s").get<double>();
    if (way > 0.0) CHECK(here == Approx(way).epsilon(1e-9));
    way = here;
    CHECK(row.at("ageing_at_distance").get<double>() ==
          Approx(row.at("for_distance_s").get<double>() / row.at("for_ageing_s").get<double>()));
  }
  CHECK_THAT(quality_of(document, "Programme"), Contains("By then it has aged"));
  CHECK_THAT(document.at("notes").dump(), Contains("matched at once at that one speed"));

  const json one_duty = document_of(compared(
      replaced(sidecar(), "point = \"cruise\"", "point = \"cruise\"\nduty = \"depot-day\""),
      {"--json"}));
  CHECK(value_of(one_duty, "programme_time_s") > value_of(document, "programme_time_s"));
}

TEST_CASE("a comparison has nothing that a case could include, and says so", "[derived]") {
  const test::Folder folder;
  const test::Ran ran =
      test::ohmdrag({"fit", demo, "--out", (folder.path() / "nothing.toml").string()});
  CHECK(ran.status == 2);
  CHECK_THAT(ran.err, Contains("holds no parameter of a case"));
}

TEST_CASE("the document of a comparison follows the schema of fits", "[derived]") {
  const test::Folder documents;
  documents.write("comparison.json", test::ohmdrag_once({"fit", demo, "--json"}).out);
  test::check_schema_of_fits(documents);
}

TEST_CASE("rigs that cannot be are refused in words", "[derived]") {
  const auto [what, by, why] = GENERATE(table<std::string, std::string, std::string>({
      {"contact = \"grounding\"", "contact = \"brush\"", "has no contact"},
      {"contact = \"grounding\"", "contact = \"drive-end\"", "has no contact"},
      {"of = \"seal\"", "of = \"seel\"", "has no contact"},
      {"point = \"cruise\"", "point = \"cruse\"", "no such operating point"},
      {"point = \"cruise\"", "", "exactly one of point"},
      {"position = \"48 mm\"", "position = \"480 mm\"", "beside the shaft"},
      {"oil_temperature = \"90 ± 5 degC\"\nwet_until = \"14 mm\"",
       "spindle_temperature = \"50 degC\"", "runs in oil, and the rig has none"},
      {"enclosure = {", "air_temperature = \"40 degC\"\nenclosure = {", "exactly one of"},
      {"speeds = [\"1500 rpm\", ", "speeds = [\"9500 rpm\", ", "rise from one to the next"},
  }));
  CAPTURE(what, by);
  const test::Ran ran = compared(replaced(sidecar(), what, by));
  CAPTURE(ran.err);
  CHECK(ran.status == 2);
  CHECK_THAT(ran.err, Contains(why));
}

TEST_CASE("the template of a comparison works once a case lies beside it", "[derived]") {
  const test::Ran fresh = test::ohmdrag({"new", "rig-comparison-run"});
  REQUIRE(fresh.status == 0);
  const test::Ran ran = compared(replaced(fresh.out, "\"case.toml\"", '"' + van + '"'));
  CAPTURE(ran.err);
  CHECK(ran.status == 0);
  CHECK_THAT(ran.out, Contains("Upper bound"));
}

// Contacts over their service, their limits and their design, through the program.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <string>
#include <vector>

#include "app/json_rows.hpp"
#include "app/program.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using nlohmann::json;
using test::find;
using test::mid;

namespace {

constexpr double pi = std::numbers::pi;

json answered(const std::filesystem::path& file, std::vector<std::string> more = {},
              const std::string& command = "budget") {
  test::Arguments arguments{command, file.string(), "--json", "--quiet"};
  arguments.insert(arguments.end(), more.begin(), more.end());
  const test::Ran& ran = test::ohmdrag_once(arguments);
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  return json::parse(ran.out);
}

bool flagged(const json& row, const std::string& code) {
  return std::ranges::any_of(row.at("flags"), [&](const json& f) { return f.at("code") == code; });
}

/// One shaft and one contact over a list of speeds: no vehicle, inverter, bearing or duty.
std::string bare(const std::string& variant, const std::string& point = {}) {
  std::string text =
      "[study]\ninvented = true\n[service]\nhours = \"1000 h\"\n[[shaft]]\nid = \"rotor\"\n"
      "diameter = \"45 mm\"\ndry_side_temperature = \"60 degC\"\n";
  for (const int rpm : {0, 3000, 6000})
    text += "[[operating_point]]\nid = \"at" + std::to_string(rpm) + "\"\nshaft_speed = \"" +
            std::to_string(rpm) + " rpm\"\noil_temperature = \"70 degC\"\n" + point;
  return text + "[[variant]]\nid = \"plain\"\n" + variant;
}

const std::string lip = "[variant.seal]\nelement = \"standard-lip\"\nposition = \"12 mm\"\n";

std::string grounding(const std::string& element, const std::string& more = {}) {
  return "[variant.grounding]\nelement = \"" + element +
         "\"\nposition = \"20 mm\"\npath = { inductance = \"10 nH\" }\n" + more;
}

}  // namespace

TEST_CASE("one lip over a list of speeds ages by the hours of the case", "[derived]") {
  const test::Folder folder;
  const json variant = answered(folder.write("case.toml", bare(lip))).at("variants").at(0);
  const json& row = find(variant.at("service"), "component", "seal");
  CHECK(row.at("hours") == Approx(1000.0));
  // Half of the hours at 3000, half at 6000 1/min; at rest nothing slides.
  CHECK(row.at("way_km") == Approx(1e-3 * pi * 0.045 * 75.0 * 3.6e6));
  CHECK(row.at("line_force_end_N_per_mm").at("high") < row.at("line_force_N_per_mm").at("high"));
  CHECK(mid(row, "contact_width_end_mm") > mid(row, "contact_width_mm"));
  CHECK(flagged(row, "remembered-ageing"));
  CHECK(flagged(row, "least-force-missing"));
  for (const json& watts : variant.at("budget")) {
    CHECK_FALSE(watts.at("own_end_of_service_W").is_null());
    CHECK(flagged(watts, "continuous-temperature"));
    CHECK(flagged(watts, "speed-chart"));
  }
  const std::string text = test::ohmdrag({"budget", (folder.path() / "case.toml").string()}).out;
  CHECK(text.find("Contacts over their service") != std::string::npos);
  CHECK(text.find("Says nothing about leakage") != std::string::npos);
}

TEST_CASE("without a service the case answers as before and says that nothing ages", "[derived]") {
  const test::Folder folder;
  std::string text = bare(lip);
  text.erase(text.find("[service]"), std::string("[service]\nhours = \"1000 h\"\n").size());
  const json variant = answered(folder.write("case.toml", text)).at("variants").at(0);
  const json& row = find(variant.at("service"), "component", "seal");
  CHECK(row.at("hours").is_null());
  CHECK(row.at("line_force_end_N_per_mm") == row.at("line_force_N_per_mm"));
  CHECK(flagged(row, "no-service"));
  for (const json& watts : variant.at("budget")) CHECK(watts.at("own_end_of_service_W").is_null());
  // The watts of new contacts do not know of a service.
  const json aged = answered(folder.write("aged.toml", bare(lip))).at("variants").at(0);
  for (std::size_t i = 0; i < 3; ++i)
    CHECK(aged["budget"][i].at("own_W") == variant["budget"][i].at("own_W"));
}

TEST_CASE("every built-in contact answers with valid documents, the same twice", "[derived]") {
  const test::Folder folder, documents;
  const std::vector<std::pair<const char*, std::string>> cases{
      {"carbon", lip + grounding("solid-carbon-brush", "current = \"2 A\"\n")},
      {"worn", lip + grounding("metal-fibre-brush", "total_radial_force = \"2 N\"\n")},
      {"fibres", lip + grounding("carbon-fibre-ring", "interference = \"0.2 mm\"\n")},
      {"wet", lip + grounding("textile-ring-in-oil", "line_force = \"0.01 N/mm\"\n")},
      {"dust", lip + "over_pressure = \"10 kPa\"\n[[variant.extra]]\nid = \"dust\"\n"
                     "element = \"dust-lip\"\nposition = \"16 mm\"\n"}};
  for (const auto& [name, variant] : cases) {
    CAPTURE(name);
    const auto file = folder.write(std::string(name) + ".toml", bare(variant));
    const test::Arguments arguments{"budget", file.string(), "--json", "--quiet"};
    const test::Ran once = test::ohmdrag(arguments);
    INFO(once.err);
    REQUIRE(once.status == 0);
    test::Surroundings one_processor;
    one_processor.on_one_processor = true;
    CHECK(once.out == test::ohmdrag(arguments, one_processor).out);
    documents.write(std::string(name) + ".json", once.out);
    // Age takes force and width and gives none back, in every draw.
    const json document = json::parse(once.out);
    for (const json& row : document.at("variants").at(0).at("service"))
      for (const char* end : {"low", "mid", "high"}) {
        CAPTURE(row.at("component").dump(), end);
        const double fresh = row.at("line_force_N_per_mm").at(end);
        const double middle = row.at("line_force_middle_N_per_mm").at(end);
        CHECK(middle <= fresh);
        CHECK(row.at("line_force_end_N_per_mm").at(end) <= middle);
        CHECK(row.at("line_force_end_N_per_mm").at(end) >= 0.0);
        CHECK(row.at("contact_width_end_mm").at(end) >= row.at("contact_width_mm").at(end));
        if (!row.at("wear_um").is_null()) CHECK(row.at("wear_um").at(end) >= 0.0);
        const json& ohm = row.at("resistance_ohm");
        const json& aged = row.at("resistance_end_ohm");
        if (!ohm.is_null() && !ohm.at(end).is_null() && !aged.at(end).is_null())
          CHECK(aged.at(end) >= ohm.at(end));
      }
  }
  const test::Ran valid =
      test::ran({"/usr/bin/python3", test::in_source("tests/report/validate.py"),
                 test::in_source("data/schema/ohmdrag-result-1.json"), documents.path().string()});
  INFO(valid.out << valid.err);
  CHECK(valid.status == 0);
}

TEST_CASE("a brush that wears out is open at the end, in table and document", "[derived]") {
  const test::Folder folder;
  const auto file = folder.write(
      "case.toml", bare(lip + grounding("metal-fibre-brush", "total_radial_force = \"2 N\"\n")));
  const json variant = answered(file).at("variants").at(0);
  const json& row = find(variant.at("service"), "component", "grounding");
  CHECK(row.at("resistance_end_ohm").at("mid").is_null());
  CHECK(flagged(row, "worn-out"));
  CHECK(flagged(row, "open-at-end"));
  // 12e-6 mm3/(N m) and 0.1 MPa take 5 mm off in 4167 km; the middle of the draws is near.
  const double way_m = 5e-3 / (1.2e-14 * 2.0 / 20e-6);
  CHECK(mid(row, "worn_out_after_h") ==
        Approx(1000.0 * way_m / (1e3 * row.at("way_km").get<double>())).epsilon(0.05));
  for (const json& watts : variant.at("budget"))
    if (watts.at("component") == "grounding") CHECK(mid(watts, "own_end_of_service_W") == 0.0);
}

// --- complaints
// -----------------------------------------------------------------------------------

TEST_CASE("a wrong word or key of a contact is one complaint at its place", "[derived]") {
  struct Row {
    std::string variant;
    const char *said, *hint;
  };
  const auto row = GENERATE(values<Row>({
      {lip + "override = { friction_law = \"mixd-film\" }\n",
       "override.friction_law: read \"mixd-film\"; expected one of mixed-film, constant, ptfe",
       "hint: did you mean mixed-film?"},
      {lip + "[variant.seal.override.service]\nform = \"springles\"\n",
       "override.service.form: read \"springles\"", "hint: did you mean springless?"},
      {grounding("textile-ring-dense", "interference = \"0.2 mm\"\n"),
       "grounding.interference: textile-ring-dense is not described by its fibres", ""},
      {grounding("metal-fibre-brush", "current = \"2 A\"\n"),
       "grounding.current: metal-fibre-brush has no contact_drop", ""},
      {"[variant.seal]\nelement = \"ptfe-lip\"\nposition = \"12 mm\"\nover_pressure = \"9 kPa\"\n",
       "seal.over_pressure: ptfe-lip has no lip form in its service", ""},
      {lip + "over_presure = \"9 kPa\"\n", "seal.over_presure: there is no such key here",
       "hint: did you mean over_pressure?"},
      {lip + "replaced_every = \"9 km\"\n", "seal.replaced_every: read \"9 km\", a length", ""},
  }));
  const test::Folder folder;
  const auto file = folder.write("case.toml", bare(row.variant));
  const test::Ran ran = test::ohmdrag({"budget", file.string()});
  CAPTURE(row.variant, ran.err);
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK(ran.err.find(row.said) != std::string::npos);
  CHECK(ran.err.find(row.hint) != std::string::npos);
  const auto lines = test::lines_of(ran.err);
  CHECK(std::ranges::count_if(lines, [](const std::string& line) {
          return line.find(": error: ") != std::string::npos;
        }) == 1);
}

TEST_CASE("the first turn of a new dry ring costs 1.3 times what it costs run in", "[derived]") {
  const test::Folder folder;
  const std::string ring = grounding("textile-ring-dense", "line_force = \"0.015 N/mm\"\n");
  const std::vector<std::string> once{"--set", "study.samples=1"};
  const json run_in = answered(folder.write("in.toml", bare(ring)), once);
  const json fresh =
      answered(folder.write("new.toml", bare(ring, "running_time = \"0 h\"\n")), once);
  for (std::size_t i = 1; i < 3; ++i)
    CHECK(mid(fresh["variants"][0]["budget"][i], "own_W") ==
          Approx(1.3 * mid(run_in["variants"][0]["budget"][i], "own_W")));
}

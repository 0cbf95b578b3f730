// Gears, rollers and measured drag through the program, as a user meets them.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <string>

#include "app/program.hpp"

using namespace ohmdrag;
using nlohmann::json;

namespace {

/// One shaft, one measured drag and a list of speeds: no vehicle, inverter, bearing or duty.
std::string bare(const std::string& more) {
  std::string text = "[[shaft]]\nid = \"rotor\"\ndiameter = \"45 mm\"\n";
  for (const int rpm : {0, 1500, 2000, 9000, -1500})
    text += "[[operating_point]]\nid = \"at" + std::to_string(rpm) + "\"\nshaft_speed = \"" +
            std::to_string(rpm) + " rpm\"\noil_temperature = \"70 degC\"\n";
  return text + "[[variant]]\nid = \"plain\"\n[[variant.extra]]\nid = \"rig\"\n" + more;
}

// Invented: straight lines, half of the torque of 40 degC at 80 degC.
const std::string table =
    "speed [rpm],torque [N*m],temperature [degC]\r\n1000,0.20,40\r\n2000,0.24,40\r\n"
    "1000,0.10,80\r\n2000,0.12,80\r\n";

json budget(const std::filesystem::path& file, std::vector<std::string> more = {}) {
  more.insert(more.begin(), {"budget", file.string(), "--json", "--quiet"});
  const test::Ran ran = test::ohmdrag(more);
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  return json::parse(ran.out).at("variants").at(0).at("budget");
}

const json& at(const json& rows, const std::string& point) {
  for (const json& row : rows)
    if (row.at("point") == point) return row;
  FAIL("no row at " << point);
  return rows;
}

double own_W(const json& row) { return row.at("own_W").at("mid").get<double>(); }

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  return text.find(words) != std::string::npos;
}

}  // namespace

// 1500 1/min and 70 degC: 0.1375 N m, 21.59845 W; 2000 1/min: 0.15 N m, 31.41593 W; at 9000 the
// torque of 2000 1/min stands: 141.3717 W. All by hand.
TEST_CASE("one measured drag over a list of speeds is a study", "[derived]") {
  const test::Folder folder;
  folder.write("drag.csv", table);
  const json rows = budget(folder.write("case.toml", bare("measured = \"drag.csv\"\n")));
  REQUIRE(rows.size() == 5);
  CHECK(own_W(at(rows, "at0")) == 0.0);
  CHECK(own_W(at(rows, "at1500")) == Approx(21.59845).epsilon(1e-6));
  CHECK(own_W(at(rows, "at-1500")) == own_W(at(rows, "at1500")));
  CHECK(own_W(at(rows, "at2000")) == Approx(31.41593).epsilon(1e-6));
  CHECK(own_W(at(rows, "at9000")) == Approx(141.3717).epsilon(1e-6));
  CHECK(at(rows, "at1500").at("kind") == "measured");
  CHECK(has(at(rows, "at9000").at("flags").dump(), "range-speed"));
  CHECK_FALSE(has(at(rows, "at2000").at("flags").dump(), "range-speed"));
}

TEST_CASE("a table that refuses what it has not measured stops the study", "[derived]") {
  const test::Folder folder;
  folder.write("drag.csv", table);
  const auto file =
      folder.write("case.toml", bare("measured = \"drag.csv\"\nbeyond = \"refuse\"\n"));
  const test::Ran ran = test::ohmdrag({"budget", file.string()});
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK(has(ran.err, "variant plain: measured torque: speed, 1/min outside the measured range"));
}

TEST_CASE("a bad table is refused with its row under the caret", "[derived]") {
  const test::Folder folder;
  folder.write("drag.csv", "speed [rpm], torque [N*m]\n1000, 0.2\n2000, 0,3\n3000, fast\n");
  const auto file = folder.write("case.toml", bare("measured = \"drag.csv\"\n"));
  for (const std::string command : {"budget", "check"}) {
    const test::Ran ran = test::ohmdrag({command, file.string()});
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(has(ran.err, "drag.csv:3:1: error: the row has 3 cells; expected 2"));
    CHECK(has(ran.err, "drag.csv:4:7: error: read \"fast\", which is no number"));
    CHECK(has(ran.err, "  4 | 3000, fast\n    |       ^~~~"));
  }
}

TEST_CASE("a table named on the command line lies in the working folder", "[derived]") {
  const test::Folder folder, elsewhere;
  elsewhere.write("drag.csv", table);
  folder.write("drag.csv", table + "3000,0.13,80\r\n");
  const auto file = folder.write("case.toml", bare("measured = \"drag.csv\"\n"));
  test::Surroundings there;
  there.folder = elsewhere.path();
  const test::Ran ran = test::ohmdrag(
      {"budget", file.string(), "--set", "variant.plain.extra.rig.measured=drag.csv"}, there);
  INFO(ran.err);
  CHECK(ran.status == 0);
  CHECK(has(ran.out, "drag.csv, 4 rows"));
  CHECK(has(test::ohmdrag({"budget", file.string()}, there).out, "drag.csv, 5 rows"));
}

TEST_CASE("the shipped context case shows gears, rollers and a measured lip", "[derived]") {
  const test::Ran& ran = test::ohmdrag_once(
      {"trade", test::shipped_case("gear-context").string(), "--json", "--quiet"});
  REQUIRE(ran.status == 0);
  const json document = json::parse(ran.out);
  for (const json& variant : document.at("variants"))
    for (const json& row : variant.at("budget")) {
      if (row.at("component") != "first-stage") continue;
      CHECK(row.at("kind") == "gear-mesh");
      CHECK(has(row.at("flags").dump(), "Context only."));
      CHECK((own_W(row) > 0.0) == (row.at("point") == "load"));
    }
  // 1462.5 N and 887.5 N at 60 N m, Y 1.6: P 2005 N; (60/2.005)^(10/3) 1e6/(60 3000) h.
  CHECK(document["variants"][1]["life"][0]["mechanical_basic_h"].get<double>() ==
        Approx(462200.0).epsilon(2e-4));
}

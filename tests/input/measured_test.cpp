#include <string>

#include "input/case_reader.hpp"
#include "input/document.hpp"
#include "input/files.hpp"
#include "input/measured_table.hpp"
#include "input/support.hpp"
#include "ohmdrag/input/catalogue.hpp"

using namespace ohmdrag;
using test::Folder;
using test::replaced;

namespace {

/// No vehicle, no inverter, no seal: one shaft and one measured drag over a list of speeds.
const std::string bare = R"([[shaft]]
id = "rotor"
diameter = "45 mm"
[[operating_point]]
id = "slow"
shaft_speed = "1500 rpm"
oil_temperature = "70 degC"
[[operating_point]]
id = "fast"
shaft_speed = "9000 rpm"
oil_temperature = "70 degC"
[[variant]]
id = "plain"
[[variant.extra]]
id = "rig"
measured = "drag.csv"
)";

// Invented.
const std::string table =
    "# invented run\nspeed [rpm], torque [N*m], temperature [degC]\n1000, 0.20, 40\n"
    "2000,0.24,40\n1000,0.10,80\n2000,0.12,80\n";

study::Case load(const Folder& folder, const std::string& text,
                 std::vector<std::string> sets = {}) {
  return input::load_case(folder.write("case.toml", text), test::options(std::move(sets)));
}

const study::MeasuredElement& measured(const study::Case& c) {
  return std::get<study::MeasuredElement>(c.variants[0].extras[0].element.form);
}

std::vector<input::Problem> problems_of(const std::string& text) {
  input::Problems problems;
  input::read_measured_table(text, "drag.csv", problems);
  try {
    problems.throw_if_any();
  } catch (const input::InputError& error) {
    return error.problems;
  }
  return {};
}

std::vector<component::MeasuredTorqueRow> rows_of(const std::string& text) {
  input::Problems problems;
  auto rows = input::read_measured_table(text, "drag.csv", problems).rows;
  CHECK_NOTHROW(problems.throw_if_any());
  return rows;
}

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  return text.find(words) != std::string::npos;
}

std::string refusal(const Folder& folder, const std::string& text) {
  try {
    load(folder, text);
  } catch (const input::InputError& error) {
    CHECK(error.problems.size() == 1);
    return error.what();
  }
  return {};
}

}  // namespace

TEST_CASE("a measured table lies beside the case that names it", "[derived]") {
  const Folder folder;
  folder.write("drag.csv", table);
  const study::Case c = load(folder, bare);
  CHECK_FALSE(c.vehicle);
  CHECK_FALSE(c.inverter);
  const study::ExtraDrag& extra = c.variants[0].extras[0];
  CHECK(extra.element.title == "rig");
  CHECK(has(extra.element.remark, "4 rows"));
  CHECK(has(extra.element.remark, "temperature is taken as that of the oil"));
  CHECK(has(extra.element.remark, input::sha256(table).substr(0, 12)));
  CHECK(measured(c).table.over_temperature());
  CHECK(measured(c).factor.mid() == 1.0);
  CHECK(measured(c).factor.certain());
  CHECK(measured(c).factor.basis == Basis::measured);
  CHECK(measured(c).factor.source == "table drag.csv");
}

TEST_CASE("columns of a drag map are passed over and named, strangers are refused", "[derived]") {
  const Folder folder;
  folder.write("drag.csv",
               "speed [rpm],temperature [degC],torque [N*m],torque low [N*m],torque of seal [N*m],"
               "transmitted torque [N*m]\n1000,40,0.2,0.1,0.2,-5\n2000,40,0.24,0.2,0.24,-5\n");
  const study::Case c = load(folder, bare);
  CHECK(has(c.variants[0].extras[0].element.remark, "2 rows, SHA-256 "));
  CHECK(has(c.variants[0].extras[0].element.remark,
            "columns not read: torque low, torque of seal, transmitted torque"));
  CHECK(problems_of("speed [rpm],torque [N*m],torque lov [N*m]\n1,1,1\n2,1,1\n").size() == 1);
}

TEST_CASE("the hash of a measured table is kept once, with its file", "[derived]") {
  const Folder folder;
  const std::string file = folder.write("drag.csv", table).string();
  const std::string twice = bare +
                            "[[variant]]\nid = \"other\"\n[[variant.extra]]\nid = \"rig\"\n"
                            "measured = \"drag.csv\"\n";
  input::Problems problems;
  const input::Node root =
      input::parse_document(twice, (folder.path() / "case.toml").string(), problems);
  const input::Catalogue catalogue = input::load_catalogue(test::options().data_folder);
  const auto read =
      input::CaseReader{root, catalogue.tables(), problems, "case"}.read().provenance.includes;
  CHECK_NOTHROW(problems.throw_if_any());
  REQUIRE(read.size() == 1);
  CHECK(read[0].file == file);
  CHECK(read[0].sha256 == input::sha256(table));
}

TEST_CASE("a measured table lies beside the included file that names it", "[derived]") {
  const Folder folder;
  std::filesystem::create_directories(folder.path() / "library");
  folder.write("library/drag.csv", table);
  const std::size_t variant = bare.find("[[variant]]");
  folder.write("library/rig.toml", bare.substr(variant));
  const study::Case c =
      load(folder, "include = [\"library/rig.toml\"]\n" + bare.substr(0, variant));
  CHECK(measured(c).table.over_temperature());
}

TEST_CASE("a measurement has a spread, a basis and a source of its own", "[derived]") {
  const Folder folder;
  folder.write("drag.csv", table);
  const study::Case c = load(folder, bare +
                                         "spread = \"± 5 %\"\nbasis = \"simulation\"\n"
                                         "source = \"model of the rig\"\ntitle = \"Rig\"\n");
  const Uncertain<double>& factor = measured(c).factor;
  CHECK(factor.key == "variant.plain.extra.rig.spread");
  CHECK(factor.spread.interval().low == Approx(0.95));
  CHECK(factor.spread.interval().high == Approx(1.05));
  CHECK(factor.spread.floor == 0.0);
  CHECK(factor.basis == Basis::simulation);
  CHECK(factor.source == "model of the rig");
  CHECK(c.variants[0].extras[0].element.title == "Rig");
  const auto values = input::all_values(c);
  CHECK(std::ranges::count(values, "variant.plain.extra.rig.spread", &input::CheckedValue::key) ==
        1);
}

TEST_CASE("what lies beyond a measured table is held or refused as the case says", "[derived]") {
  const Folder folder;
  folder.write("drag.csv", table);
  const AngularVelocity fast = from_rpm(9000.0);
  const Temperature warm = from_celsius(70.0);
  CHECK(measured(load(folder, bare)).table.drag(fast, warm).flags.size() == 1);
  const study::Case strict = load(folder, bare + "beyond = \"refuse\"\n");
  CHECK_THROWS_AS(measured(strict).table.drag(fast, warm), std::domain_error);
  CHECK(has(refusal(folder, bare + "beyond = \"extrapolate\"\n"), "expected one of hold, refuse"));
}

TEST_CASE("variants that are alike share the draw of a measurement", "[derived]") {
  const Folder folder;
  folder.write("drag.csv", table);
  const study::Case c = load(folder, bare +
                                         "spread = \"± 5 %\"\n[[variant]]\nid = \"other\"\n"
                                         "like = \"plain\"\n");
  const auto& other = std::get<study::MeasuredElement>(c.variants[1].extras[0].element.form);
  CHECK(other.factor.key == measured(c).factor.key);
}

TEST_CASE("a case says what is wrong with the name of a table", "[derived]") {
  const Folder folder;
  folder.write("drag.csv", table);
  std::filesystem::create_directories(folder.path() / "folder.csv");
  const auto named = [&](const std::string& name) {
    return refusal(folder, replaced(bare, "\"drag.csv\"", name));
  };
  CHECK(has(named("\"absent.csv\""), "there is no such file"));
  CHECK(has(named("\"absent.csv\""), "variant.plain.extra.rig.measured"));
  CHECK(has(named("\"folder.csv\""), "is no regular file; expected a CSV file"));
  CHECK(has(named("3"), "expected text in quotes"));
  folder.write("empty.csv", "\n\n");
  CHECK(has(named("\"empty.csv\""), "is empty"));
  folder.write("latin.csv", "speed [rpm], torque [N*m]\n1,\xFC\n");
  CHECK(has(named("\"latin.csv\""), "not UTF-8"));
  CHECK(has(refusal(folder, bare + "power = \"3 W\"\nat = \"3000 rpm\"\ntorque_exponent = 0\n"),
            "expected exactly one of"));
  CHECK(has(refusal(folder, bare + "spread = \"± 5 mm\"\n"), "rig.spread"));
  CHECK(has(refusal(folder, bare + "spread = 5\n"), "expected text such as"));
}

TEST_CASE("columns come in any order and unit, lines end as they like", "[derived]") {
  const auto plain = rows_of("speed [rpm],torque [N*m]\n60,0.5\n120,0.6\n");
  REQUIRE(plain.size() == 2);
  CHECK(plain[0].speed.value() == Approx(6.283185307));
  CHECK(plain[0].torque.value() == 0.5);
  CHECK_FALSE(plain[0].temperature);
  const auto other = rows_of(
      "\ttemperature [°C] , torque [mN*m] , speed [rad/s]\r\n\r\n# pause\r\n25,500,6\r\n"
      "25 , 600 , 12\r\n");
  REQUIRE(other.size() == 2);
  CHECK(other[1].speed.value() == 12.0);
  CHECK(other[1].torque.value() == Approx(0.6));
  CHECK(other[1].temperature->value() == Approx(298.15));
  CHECK(rows_of("speed [rpm],torque [N*m]\n1e3,0\n2e3,1e-3").size() == 2);  // no last line feed
}

TEST_CASE("a byte-order mark before a table is no part of it", "[derived]") {
  const Folder folder;
  folder.write("drag.csv", "\xEF\xBB\xBF" + table);
  CHECK(measured(load(folder, bare)).table.over_temperature());
}

TEST_CASE("a bad table is refused with line and column", "[derived]") {
  struct Row {
    std::string text;
    std::size_t line;
    std::string said;
  };
  const std::string head = "speed [rpm], torque [N*m]\n";
  const std::string warm = "speed [rpm],torque [N*m],temperature [degC]\n";
  const auto row = GENERATE_COPY(values<Row>({
      {"speed [rpm]\n1\n", 1, "there is no column torque"},
      {"torque [N*m]\n1\n", 1, "there is no column speed"},
      {"speed, torque [N*m]\n1,2\n", 1, "expected its unit in square brackets"},
      {"speed [rpm], torque [N*m\n1,2\n", 1, "expected its unit in square brackets"},
      {"speed [rpm], torque [N]\n1,2\n", 1, "which is no unit of a torque"},
      {"speed [km/h], torque [N*m]\n1,2\n", 1, "which is no unit of a rotational speed"},
      {"speed [], torque [N*m]\n1,2\n", 1, "which is no unit"},
      {"speed [rpm], torqe [N*m]\n1,2\n", 1, "which is no column here"},
      {"speed [rpm], torque [N*m], torque [N*m]\n1,2,3\n", 1, "stands here twice"},
      {"speed [rpm]; torque [N*m]\n1;0,5\n", 1, "separated by semicolons"},
      {"1000, torque [N*m]\n2000,0.3\n", 1, "which is no column here"},
      {head, 1, "no rows"},
      {"# nothing but a comment\n", 1, "no rows"},
      {head + "1000,0.1\n2000\n", 3, "the row has 1 cells; expected 2"},
      {head + "1000,0,1\n2000,0.2\n", 2, "the row has 3 cells; expected 2"},
      {head + "1000,0.1\n2000,0.2,\n", 3, "the row has 3 cells; expected 2"},
      {head + "1000,0.1\n2000,fast\n", 3, "read \"fast\", which is no number"},
      {head + "1000,0.1\n2000,nan\n", 3, "read \"nan\", which is no number"},
      {head + "1000,0.1\n2000,inf\n", 3, "read \"inf\", which is no number"},
      {head + "1000,0.1\n2000,0.2 N*m\n", 3, "which is no number"},
      {head + "1000,0.1\n2000,1e999\n", 3, "which is no number"},
      {head + "1000,0.1\n2000,\n", 3, "the torque is missing"},
      {head + "1000,0.1\n-2000,0.2\n", 3, "both directions drag alike"},
      {head + "1000,0.1\n2000,-0.2\n", 3, "a drag has no sign"},
      {head + "1000,0.1\n2000,0.2\n1000,0.3\n", 4, "the speed 1000 stands in line 2 already"},
      {head + "1000,0.1\n", 2, "one speed alone makes no curve"},
      {warm + "1000,0.1,40\n2000,0.2,40\n1000,0.1,80\n", 4, "no second speed"},
      {warm + "1000,0.1,40\n2000,0.2,40\n1000,0.3,40\n", 4, "already at this temperature"},
      {warm + "1000,0.1,-300\n2000,0.2,40\n3000,0.2,40\n", 2, "absolute zero"},
  }));
  CAPTURE(row.text);
  const auto problems = problems_of(row.text);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].file == "drag.csv");
  CHECK(problems[0].line == row.line);
  CHECK(has(problems[0].what, row.said));
}

TEST_CASE("a caret stands under the cell, whatever stands before it", "[derived]") {
  const auto problems = problems_of(
      "temperature [°C], torque [N*m], speed [rpm]\n40, 0.1, 100\n40, 0,2, 200\n"
      "40, µ, 300\n");
  REQUIRE(problems.size() == 2);
  CHECK(problems[0].line == 3);
  CHECK(problems[1].line == 4);
  CHECK(problems[1].column == 5);
  CHECK(problems[1].width == 1);
}

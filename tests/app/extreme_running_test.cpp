// Standstill, crawling, 40 000 1/min and reverse, for everything that the program has built in.

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "program.hpp"

using namespace ohmdrag;
using nlohmann::json;

namespace {

const std::vector<double> speeds_rpm{0, 1, 100, 1000, 5000, 6000, 15000, 40000, -6000};

std::set<std::string> built_in(const std::string& kind) {
  std::set<std::string> ids;
  const json list = json::parse(test::ohmdrag({"list", kind, "--json"}).out);
  for (const json& row : list.at("rows"))
    if (const auto id = row.at("entry").get<std::string>(); !id.empty()) ids.insert(id);
  return ids;
}

std::string speed_text(double rpm) { return std::to_string(static_cast<int>(rpm)) + " rpm"; }

/// The case of one built-in contact at all the speeds, as the calculator writes it.
std::string case_of_contact(const std::string& id) {
  test::Arguments arguments{"contact", "--diameter", "40 mm", "--element", id, "--show-case"};
  for (const double rpm : speeds_rpm) arguments.push_back("--speed=" + speed_text(rpm));
  const test::Ran shown = test::ohmdrag(arguments);
  CAPTURE(shown.err);
  REQUIRE(shown.status == 0);
  return shown.out;
}

/// The same of anything else a variant may hold.
std::string case_of(const std::string& variant) {
  std::string text =
      "[study]\ntitle = \"Extreme running\"\nbaseline = \"only\"\n"
      "[sump]\nlubricant = \"thin-axle-oil\"\nheat_capacity = \"1 kJ/K\"\n"
      "conductance = \"1 W/K\"\nambient = \"40 degC\"\n"
      "[[shaft]]\nid = \"shaft\"\ndiameter = \"40 mm\"\ndry_side_temperature = \"40 degC\"\n";
  for (const double rpm : speeds_rpm)
    text += "[[operating_point]]\nid = \"" + std::to_string(static_cast<int>(rpm)) +
            "-rpm\"\nshaft_speed = \"" + speed_text(rpm) + "\"\noil_temperature = \"80 degC\"\n";
  return text + "[[variant]]\nid = \"only\"\ntitle = \"only\"\n" + variant;
}

struct Figure {
  double low, mid, high;
};

Figure figure(const json& row, const char* key) {
  CAPTURE(key);
  const json& interval = row.at(key);
  REQUIRE(interval.is_object());  // a number that is none is written as null
  const auto part = [&](const char* name) {
    REQUIRE(interval.at(name).is_number());
    return interval.at(name).get<double>();
  };
  return {part("low"), part("mid"), part("high")};
}

void check_running(const std::string& what, const std::string& case_text) {
  CAPTURE(what);
  const test::Folder folder;
  folder.write("run.csv", "speed [rpm], torque [N*m]\n500, 0.08\n3000, 0.10\n12000, 0.12\n");
  const auto file = folder.write("case.toml", case_text);
  const test::Ran ran = test::ohmdrag({"budget", file.string(), "--json"});
  CAPTURE(ran.err);
  CHECK(ran.status == 0);
  if (ran.status != 0) return;  // the others have their turn all the same
  const json rows = json::parse(ran.out).at("variants").at(0).at("budget");
  REQUIRE(rows.size() == speeds_rpm.size());

  Figure forth_W{}, back_W{};
  for (const json& row : rows) {
    const double rpm = row.at("shaft_speed_rpm").get<double>();
    CAPTURE(rpm);
    for (const char* key : {"own_W", "net_W", "torque_Nm"}) {
      const Figure f = figure(row, key);
      CHECK(std::isfinite(f.low));
      CHECK(std::isfinite(f.high));
      CHECK(f.low <= f.mid);
      CHECK(f.mid <= f.high);
      CHECK(f.low >= 0.0);
    }
    const Figure own = figure(row, "own_W");
    if (rpm == 0.0)
      CHECK(own.high == 0.0);
    else
      CHECK(own.low > 0.0);
    CHECK(own.high < 2000.0);
    if (rpm == 6000.0) forth_W = own;
    if (rpm == -6000.0) back_W = own;
    if (!row.at("contact_temperature_degC").is_null()) {
      const Figure contact = figure(row, "contact_temperature_degC");
      CHECK(contact.low > 0.0);
      CHECK(contact.high < 600.0);
    }
    for (const json& flag : row.at("flags")) {
      const auto text = flag.at("text").get<std::string>();
      CHECK(text.find("nan") == std::string::npos);
      CHECK(text.find("inf ") == std::string::npos);
    }
  }
  CHECK(forth_W.mid > 0.0);
  CHECK(back_W.low == forth_W.low);
  CHECK(back_W.mid == forth_W.mid);
  CHECK(back_W.high == forth_W.high);
}

}  // namespace

TEST_CASE("every built-in contact runs from standstill to 40 000 1/min and backwards",
          "[derived]") {
  const auto contacts = built_in("contacts");
  CHECK(contacts.size() >= 9);
  for (const std::string& id : contacts) check_running(id, case_of_contact(id));
}

TEST_CASE("every general rule does", "[derived]") {
  const auto rules = built_in("rules");
  CHECK(rules.size() >= 4);
  for (const std::string& id : rules)
    check_running(id, case_of("[variant.seal]\nelement = \"" + id +
                              "\"\nshaft = \"shaft\"\nposition = \"10 mm\"\n"));
}

TEST_CASE("a stated loss and a measured drag do, beyond their statement too", "[derived]") {
  const std::string extra = "[[variant.extra]]\nid = \"extra\"\nshaft = \"shaft\"\n";
  check_running("stated",
                case_of(extra + "power = \"6 W\"\nat = \"6000 rpm\"\ntorque_exponent = 0.5\n"
                                "basis = \"customer\"\nsource = \"invented\"\n"));
  check_running("measured", case_of(extra + "measured = \"run.csv\"\nsource = \"invented run\"\n"));
}

TEST_CASE("a contact without force is refused in words", "[derived]") {
  // Zero newtons are no contact; the answer is a sentence, never a division by them.
  for (const char* element : {"standard-lip", "textile-ring-dense"}) {
    const test::Ran ran = test::ohmdrag({"contact", "--diameter", "40 mm", "--element", element,
                                         "--line-force", "0 N/mm", "--speed", "3000 rpm"});
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK_THAT(ran.err,
               Catch::Matchers::Contains("line_force") && Catch::Matchers::Contains("above 0 N/m"));
  }
}

TEST_CASE("a contact of a hair's force still has an answer", "[derived]") {
  for (const char* element : {"standard-lip", "textile-ring-dense"}) {
    test::Arguments arguments{"contact", "--diameter",   "40 mm",          "--element",
                              element,   "--line-force", "0.0000001 N/mm", "--json"};
    for (const double rpm : speeds_rpm) arguments.push_back("--speed=" + speed_text(rpm));
    const test::Ran ran = test::ohmdrag(arguments);
    CAPTURE(ran.err);
    REQUIRE(ran.status == 0);
    const json rows = json::parse(ran.out).at("variants").at(0).at("budget");
    REQUIRE(rows.size() == speeds_rpm.size());
    for (const json& row : rows) {
      CHECK(figure(row, "own_W").low >= 0.0);
      CHECK(figure(row, "own_W").high < 1.0);
    }
  }
}

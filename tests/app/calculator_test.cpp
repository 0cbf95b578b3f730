// The no-file calculator against hand calculations.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "app/json_rows.hpp"
#include "app/program.hpp"

using namespace ohmdrag;

namespace {

nlohmann::json row_of(const test::Arguments& force) {
  test::Arguments all{"contact", "--diameter", "40 mm",    "--friction",
                      "0.3",     "--speed",    "6000 rpm", "--json"};
  all.insert(all.end(), force.begin(), force.end());
  const test::Ran ran = test::ohmdrag(all);
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  return nlohmann::json::parse(ran.out).at("variants").at(0).at("budget").at(0);
}

}  // namespace

// derived: the sum of the radial force is F = F' pi d = 100 N/m * pi * 0.040 m = 12.566 N; friction
// gives T = mu F d/2 = 0.3 * 12.566 N * 0.020 m = 75.398 mN m and, at omega = 6000 * 2 pi / 60 s =
// 628.32 1/s, P = T omega = 47.374 W. A split-shaft gauge of two equal halves reads F/pi = F' d =
// 4.000 N, so the same contact may be stated in three ways.
TEST_CASE("one contact agrees with the hand calculation, however its force is stated",
          "[derived]") {
  const test::Arguments force = GENERATE(test::Arguments{"--line-force", "0.10 N/mm"},
                                         test::Arguments{"--total-force", "12.566371 N"},
                                         test::Arguments{"--split-reading", "4.000 N"});
  CAPTURE(force);
  const auto row = row_of(force);
  CHECK(test::mid(row, "torque_Nm") == Approx(75.398e-3).epsilon(1e-5));
  CHECK(test::mid(row, "own_W") == Approx(47.374).epsilon(1e-5));
  CHECK(test::mid(row, "torque_Nm") / (0.3 * 0.020) == Approx(12.566).epsilon(1e-4));
  CHECK(row.at("shaft_speed_rpm").get<double>() == Approx(6000.0));
  // pi * 0.040 m * 100 1/s
  CHECK(row.at("surface_speed_mps").get<double>() == Approx(12.566).epsilon(1e-4));
}

TEST_CASE("the calculator prints the same figures as text", "[derived]") {
  const test::Ran ran = test::ohmdrag({"contact", "--diameter", "40 mm", "--line-force",
                                       "0.10 N/mm", "--friction", "0.3", "--speed", "6000 rpm"});
  CHECK(ran.status == 0);
  for (const char* figure : {"0.0754", "47.37", "12.57"})
    CHECK_THAT(ran.out, Catch::Matchers::Contains(figure));
}

TEST_CASE("dry friction power is proportional to speed over a list of speeds", "[derived]") {
  const test::Ran ran = test::ohmdrag({"contact", "--diameter", "40 mm", "--line-force",
                                       "0.10 N/mm", "--friction", "0.3", "--speed", "1500 rpm",
                                       "--speed", "3000 rpm", "--speed", "6000 rpm", "--json"});
  REQUIRE(ran.status == 0);
  const auto rows = nlohmann::json::parse(ran.out).at("variants").at(0).at("budget");
  REQUIRE(rows.size() == 3);
  CHECK(test::mid(rows[1], "own_W") == Approx(2.0 * test::mid(rows[0], "own_W")).epsilon(1e-9));
  CHECK(test::mid(rows[2], "own_W") == Approx(4.0 * test::mid(rows[0], "own_W")).epsilon(1e-9));
}

TEST_CASE("the case behind the calculator computes the same", "[derived]") {
  const test::Arguments question{"contact",    "--diameter", "40 mm",   "--line-force", "0.02 N/mm",
                                 "--friction", "0.2",        "--speed", "4500 rpm"};
  test::Arguments show = question;
  show.push_back("--show-case");
  const test::Folder folder;
  const auto file = folder.write("case.toml", test::ohmdrag(show).out);
  const test::Ran as_case = test::ohmdrag({"budget", file.string(), "--json"});
  CAPTURE(as_case.err);
  REQUIRE(as_case.status == 0);
  test::Arguments json = question;
  json.push_back("--json");
  CHECK(nlohmann::json::parse(as_case.out).at("variants") ==
        nlohmann::json::parse(test::ohmdrag(json).out).at("variants"));
}

TEST_CASE("every built-in contact can stand in the calculator", "[derived]") {
  const auto contacts =
      nlohmann::json::parse(test::ohmdrag({"list", "contacts", "--json"}).out).at("rows");
  int ids = 0;
  for (const auto& row : contacts) {
    const auto id = row.at("entry").get<std::string>();
    if (id.empty()) continue;
    CAPTURE(id);
    ++ids;
    const test::Arguments arguments{"contact", "--diameter", "40 mm",   "--element",
                                    id,        "--speed",    "3000 rpm"};
    const test::Ran ran = test::ohmdrag(arguments);
    CAPTURE(ran.err);
    CHECK(ran.status == 0);
  }
  CHECK(ids >= 6);
}

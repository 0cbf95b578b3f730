#include "ohmdrag/input/trip_file.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "input/files.hpp"
#include "input/support.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/in_source.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using test::Folder;
using test::near;

namespace {

const std::filesystem::path trips = test::in_source("tests/duty/trips");

duty::TripReader reader() {
  return duty::TripReader({.columns = {.time = {"t", "s"},
                                       .speed = {"v", "km/h"},
                                       .shaft_speed = {},
                                       .torque = {},
                                       .sump_temperature = {},
                                       .ambient_temperature = {}}});
}

/// A case with a vehicle and one duty of trips.
std::string with_trips(const std::string& keys) {
  return R"case([vehicle]
test_mass = "2000 kg"
road_load = { f0 = "150 N", f1 = "1 N/(km/h)", f2 = "0.03 N/(km/h)^2" }
tyre = "215/65 R16"
[vehicle.path]
mean_efficiency = 0.9
load_independent_share = 0.4
recuperation_efficiency = 0.8
[[shaft]]
id = "rotor"
ratio = 10.0
diameter = "45 mm"
[[variant]]
id = "plain"
[[duty]]
id = "driven"
oil_temperature = "60 degC"
)case" + keys;
}

const std::string columns =
    "columns = { time = { name = \"t\", unit = \"s\" }, speed = { name = \"v\", unit = \"km/h\" "
    "} }\n";

study::Case load(const Folder& folder, const std::string& keys) {
  return input::load_case(folder.write("case.toml", with_trips(keys)), test::options());
}

}  // namespace

TEST_CASE("trip files: plain and compressed say the same", "[input][derived]") {
  auto read = reader();
  for (const char* file : {"plain.csv", "plain.csv.gz"}) {
    CAPTURE(file);
    CHECK_THAT(input::read_trip(trips / file, read).report.distance, near(50.0_m, 1e-12));
  }
}

TEST_CASE("trip files: what cannot be read says why", "[input][derived]") {
  auto read = reader();
  const auto why = [&](const std::filesystem::path& file) -> std::string {
    try {
      input::read_trip(file, read);
    } catch (const duty::TripError& error) {
      return error.what();
    }
    return "was read";
  };
  CHECK_THAT(why(trips / "torn_archive.csv.gz"), Contains("the archive ends before its text does"));
  CHECK_THAT(why(trips / "damaged_archive.csv.gz"), Contains("cannot be read"));
  CHECK_THAT(why(trips / "nowhere.csv"), Contains("no such file"));
  CHECK_THAT(why(trips), Contains("no regular file"));
  CHECK_THAT(why(trips / "text_in_a_number.csv"), Contains("line 4, column \"v\""));
  // The reader is as new after each.
  CHECK_THAT(input::read_trip(trips / "plain.csv", read).report.distance, near(50.0_m, 1e-12));
}

TEST_CASE("trip files: a folder by name, a file for itself", "[input][derived]") {
  const Folder folder;
  for (const char* name : {"b.csv", "a.CSV", "c.csv.gz", "notes.txt"}) folder.write(name, "x\n");
  const auto files = input::trip_files(folder.write("b.csv", "x\n").parent_path());
  REQUIRE(files.size() == 3);
  CHECK(files[0].filename() == "a.CSV");
  CHECK(files[2].filename() == "c.csv.gz");
  CHECK(input::trip_files(files[1]).size() == 1);
  CHECK_THROWS_AS(input::trip_files(trips / "nowhere"), std::filesystem::filesystem_error);
}

TEST_CASE("a duty of trips beside its case", "[input][derived]") {
  const Folder folder;
  folder.write("b.csv", test::file_text(trips / "plain.csv"));
  folder.write("a.csv", test::file_text(trips / "time_runs_back.csv"));
  const auto question = load(folder, "trips = \".\"\n" + columns);
  const study::Duty& duty = question.duties.at(0);
  CHECK(duty.is_driven());
  REQUIRE(duty.trips.size() == 2);
  CHECK(duty.trips[1].id == "b.csv");
  CHECK_THAT(duty.trips[1].read().report.distance, near(50.0_m, 1e-12));
  CHECK_THROWS_AS(duty.trips[0].read(), duty::TripError);

  // What a report says of where its trips came from.
  const auto hash = [](const char* file) { return input::sha256(test::file_text(trips / file)); };
  REQUIRE(question.provenance.includes.size() == 1);
  CHECK(question.provenance.includes[0].sha256 ==
        input::sha256(hash("time_runs_back.csv") + "  a.csv\n" + hash("plain.csv") + "  b.csv\n"));
}

TEST_CASE("a duty of trips: what is wrong with it is said when the case is read",
          "[input][derived]") {
  struct Row {
    std::string keys, says;
  };
  const auto row = GENERATE_REF(values<Row>({
      {"trips = \"nowhere\"\n" + columns, "nowhere"},
      {"trips = \"empty\"\n" + columns, "there is no *.csv or *.csv.gz in it"},
      {"trips = \".\"\n", "columns"},
      {"trips = \".\"\ncolumns = { time = { name = \"t\", unit = \"s\" } }\n", "speed"},
      {"trips = \".\"\n" + columns + "separator = \"dash\"\n", "separator"},
      {"trips = \".\"\ncolumns = { time = { name = \"t\", unit = \"km\" }, speed = { name = "
       "\"v\", unit = \"km/h\" } }\n",
       "no unit of a time"},
      {"trips = \".\"\ncolumns = { time = { name = \"t\", unit = \"s\" }, speed = { name = \"v\", "
       "unit = \"km/h\" }, torque = { name = \"M\", unit = \"N\" } }\n",
       "no unit of a torque"},
      {"trips = \".\"\ncycle = \"wltc-3b\"\n" + columns, "exactly one of"},
  }));
  CAPTURE(row.keys);
  const Folder folder;
  std::filesystem::create_directory(folder.write("b.csv", "x\n").parent_path() / "empty");
  CHECK_THROWS_WITH(load(folder, row.keys), Contains(row.says));
}

#include "ohmdrag/duty/trip_log.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "ohmdrag/quantity/literals.hpp"
#include "support/in_source.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using test::near;
using test::within;

namespace {

std::string text_of(const std::string& file) {
  std::ifstream in(test::in_source("tests/duty/trips/") + file, std::ios::binary);
  INFO(file);
  REQUIRE(in);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

duty::TripForm form(duty::TripColumn time = {"t", "s"}, duty::TripColumn speed = {"v", "km/h"}) {
  return {.columns = {.time = std::move(time),
                      .speed = std::move(speed),
                      .shaft_speed = {},
                      .torque = {},
                      .sump_temperature = {},
                      .ambient_temperature = {}}};
}

const duty::TripColumn stamp{"stamp", std::string(duty::date_time_unit)};

duty::Trip read(const std::string& file, const duty::TripForm& as = form()) {
  return duty::trip_from_csv(text_of(file), as);
}

}  // namespace

TEST_CASE("trip: the same ramp in every way of writing", "[duty][derived]") {
  struct Row {
    std::string file;
    duty::TripForm form;
  };
  // From rest with 1 m/s2 for 10 s: 50 m, samples 0 to 10 m/s.
  const auto row = GENERATE(values<Row>({
      {"plain.csv", form()},
      {"semicolon_decimal_comma.csv", form()},
      {"tab.csv", form()},
      {"quoted_decimal_comma.csv", form()},
      {"byte_order_mark.csv", form()},
      {"windows_line_ends.csv", form()},
      {"no_final_line_end.csv", form()},
      {"comments_and_blanks.csv", form()},
      {"extra_columns.csv", form()},
      {"milliseconds.csv", form({"t [ms]", "ms"}, {"v [m/s]", "m/s"})},
      {"date_times.csv", form(stamp)},
      {"date_times_without_offset.csv", form(stamp)},
  }));
  CAPTURE(row.file);
  const auto trip = read(row.file, row.form);
  REQUIRE(trip.pieces.size() == 1);
  REQUIRE(trip.pieces[0].time.size() == 11);
  for (std::size_t i = 0; i < 11; ++i) {
    CHECK_THAT(trip.pieces[0].time[i], within(Time::from_value(double(i)), Time::from_value(1e-9)));
    CHECK_THAT(trip.pieces[0].speed[i],
               within(Speed::from_value(double(i)), Speed::from_value(1e-12)));
  }
  const auto& report = trip.report;
  CHECK(report.samples == 11);
  CHECK_THAT(report.distance, near(50.0_m, 1e-12));
  CHECK_THAT(report.checksum, near(55.0_m_s, 1e-12));
  CHECK_THAT(report.speed_step, near(1.0_m_s, 1e-12));
  CHECK_THAT(report.median_step, near(1.0_s, 1e-9));
  CHECK(report.gaps.empty());
  CHECK(report.covered_share == 1.0);
  CHECK(report.bridged_share == 0.0);
  CHECK(report.duplicates == 0);
  CHECK_FALSE(report.coarse);
  CHECK(report.without_offset == (row.file == "date_times_without_offset.csv"));
}

TEST_CASE("trip: defects that are mended and reported", "[duty][derived]") {
  struct Row {
    std::string file;
    std::size_t samples, duplicates, gaps, pieces, lone;
    double distance_m, median_s, bridged, covered;
    bool coarse;
    std::string says;
  };
  // All on v = 1 m/s2 t, so a stretch from a to b is (b^2 - a^2)/2, bridged or not.
  const auto row = GENERATE(values<Row>({
      {"uneven_steps.csv", 11, 0, 0, 1, 0, 50.0, 1.0, 0.0, 1.0, false, "median step 1 s"},
      {"duplicates.csv", 11, 3, 0, 1, 0, 50.0, 1.0, 0.0, 1.0, false, "3 rows averaged"},
      {"short_gap.csv", 7, 0, 1, 1, 0, 50.0, 1.0, 0.5, 1.0, false, "1 gap bridged"},
      {"ten_second_gap.csv", 10, 0, 1, 1, 0, 162.0, 1.0, 10.0 / 18.0, 1.0, false, "bridged"},
      {"long_gap.csv", 10, 0, 1, 2, 0, 8.0 + 68.0, 1.0, 0.0, 8.0 / 19.0, false,
       "1 gap left out, the longest 11 s: 42.1 % of the time is covered"},
      {"lone_sample.csv", 12, 0, 2, 2, 1, 12.5 + 248.0, 1.0, 0.0, 9.0 / 64.0, false,
       "1 lone sample between long gaps left out"},
      {"coarse_step.csv", 4, 0, 0, 1, 0, 162.0, 6.0, 0.0, 1.0, true, "a step above 5 s"},
      {"standstill.csv", 11, 0, 0, 1, 0, 0.0, 1.0, 0.0, 1.0, false, "11 samples"},
  }));
  CAPTURE(row.file);
  const auto trip = read(row.file);
  const auto& report = trip.report;
  CHECK(report.samples == row.samples);
  CHECK(report.duplicates == row.duplicates);
  CHECK(report.gaps.size() == row.gaps);
  CHECK(trip.pieces.size() == row.pieces);
  CHECK(report.lone_samples == row.lone);
  CHECK(report.distance.value() == Approx(row.distance_m).margin(1e-9));
  CHECK(report.median_step.value() == Approx(row.median_s).epsilon(1e-12));
  CHECK(report.bridged_share == Approx(row.bridged).margin(1e-12));
  CHECK(report.covered_share == Approx(row.covered).epsilon(1e-12));
  CHECK(report.coarse == row.coarse);
  CHECK_THAT(duty::in_words(report), Contains(row.says));
}

TEST_CASE("trip: duplicates are the mean of their rows, gaps stand where they were",
          "[duty][derived]") {
  const auto doubled = read("duplicates.csv");
  CHECK_THAT(doubled.pieces[0].speed[3], near(from_kmh(10.8), 1e-12));
  CHECK_THAT(doubled.report.speed_step, near(from_kmh(0.2), 1e-9));
  const auto split = read("long_gap.csv");
  REQUIRE(split.report.gaps.size() == 1);
  CHECK(split.report.gaps[0].start == 4.0_s);
  CHECK(split.report.gaps[0].length == 11.0_s);
  CHECK_FALSE(split.report.gaps[0].bridged);
  CHECK(split.pieces[1].time.front() == 15.0_s);
  CHECK(read("short_gap.csv").report.gaps[0].bridged);
}

TEST_CASE("trip: every column in its unit", "[duty][derived]") {
  auto all = form();
  all.columns.shaft_speed = {"n", "rpm"};
  all.columns.torque = {"M", "N*m"};
  all.columns.sump_temperature = {"T_oil", "degC"};
  all.columns.ambient_temperature = {"T_air", "degC"};
  const auto piece = read("all_columns.csv", all).pieces.at(0);
  CHECK_THAT(piece.shaft_speed.at(10), near(6000.0_rpm, 1e-12));
  CHECK_THAT(piece.torque.at(3), near(Torque::from_value(7.0), 1e-12));
  CHECK(in_celsius(piece.sump_temperature.at(4)) == Approx(25.0));
  CHECK(in_celsius(piece.ambient_temperature.at(4)) == Approx(23.0));
  CHECK(read("all_columns.csv").pieces.at(0).torque.empty());
}

TEST_CASE("trip: what is refused, and where", "[duty][derived]") {
  struct Row {
    std::string file;
    duty::TripForm form;
    std::size_t line;
    std::string column, says;
  };
  const auto row = GENERATE(values<Row>({
      {"time_runs_back.csv", form(), 5, "t", "line 5, column \"t\": time runs back by 0.5 s"},
      {"not_a_number.csv", form(), 4, "v", "read \"nan\""},
      {"infinite.csv", form(), 3, "v", "read \"inf\""},
      {"text_in_a_number.csv", form(), 4, "v", "read \"fast\""},
      {"text_in_the_time.csv", form(), 3, "t", "read \"one\""},
      {"empty_cell.csv", form(), 3, "v", "the cell is empty"},
      {"negative_speed.csv", form(), 4, "v", "negative speed -0.1"},
      {"missing_column.csv", form(), 1, "t", "the columns are: time, speed, V"},
      {"missing_speed.csv", form({"t", "s"}, {"v_ist_kmh", "km/h"}), 1, "v_ist_kmh",
       "did you mean \"v_ist\"?; the columns are: t, v_ist, gear"},
      {"doubled_column.csv", form(), 1, "v", "stands there twice"},
      {"torn_row.csv", form(), 4, "", "the row has 1 cells; expected 2"},
      {"decimal_comma_between_commas.csv", form(), 3, "", "more than 2 cells; a decimal comma"},
      {"mixed_decimal_marks.csv", form(), 4, "v", "with the decimal mark comma"},
      {"open_quote.csv", form(), 3, "", "a quote is not closed in cell 2"},
      {"too_coarse_step.csv", form(), 0, "", "the median step is 31 s"},
      {"one_sample.csv", form(), 0, "", "1 samples"},
      {"header_alone.csv", form(), 0, "", "0 samples"},
      {"empty.csv", form(), 0, "", "the log is empty"},
      {"utf16.csv", form(), 1, "", "UTF-16"},
      {"mixed_offsets.csv", form(stamp), 3, "stamp", "some do not"},
      {"impossible_date.csv", form(stamp), 3, "stamp", "read \"2031-02-29T00:59:56Z\""},
  }));
  CAPTURE(row.file);
  duty::TripReader reader(row.form);
  try {
    reader.feed(text_of(row.file));
    reader.finish();
    FAIL("was read");
  } catch (const duty::TripError& error) {
    CHECK(error.line() == row.line);
    CHECK(error.column() == row.column);
    CHECK_THAT(error.what(), Contains(row.says));
  }
}

TEST_CASE("trip: where the text is cut does not matter, and a refusal leaves no trace",
          "[duty][derived]") {
  const std::string text = text_of("comments_and_blanks.csv");
  duty::TripReader reader(form());
  for (std::size_t size = 1; size <= text.size(); ++size) {
    CHECK_THROWS_AS((reader.feed("t,v\n0,0\n1,x\n"), reader.finish()), duty::TripError);
    for (std::size_t at = 0; at < text.size(); at += size)
      reader.feed(std::string_view(text).substr(at, size));
    CHECK_THAT(reader.finish().report.distance, near(50.0_m, 1e-12));
  }
}

TEST_CASE("trip: separator and decimal mark may be given", "[duty][derived]") {
  auto strict = form();
  strict.separator = ';';
  strict.decimal = ',';
  CHECK(duty::trip_from_csv("t;v\n0;0\n1;3,6\n", strict).report.samples == 2);
  CHECK_THROWS_AS(duty::trip_from_csv("t;v\n0;0\n1;3.6\n", strict), duty::TripError);
  CHECK_THROWS_AS(duty::trip_from_csv("t,v\n0,0\n1,3.6\n", strict), duty::TripError);
  strict.separator = ' ';
  CHECK_THROWS_AS(duty::TripReader(strict), std::invalid_argument);
  CHECK_THROWS_AS(duty::TripReader(form({"t", "km"})), std::invalid_argument);
  CHECK_THROWS_AS(duty::TripReader(form({"t", "s"}, {"t", "km/h"})), std::invalid_argument);
}

TEST_CASE("trip: a line without an end is no table", "[duty][derived]") {
  duty::TripReader reader(form());
  const std::string endless(300'000, 'x');
  const auto feed = [&] {
    for (int i = 0; i < 10; ++i) reader.feed(endless);
  };
  CHECK_THROWS_AS(feed(), duty::TripError);
}

TEST_CASE("trip: a piece drives as a cycle", "[duty][derived]") {
  const auto trip = read("long_gap.csv");
  const auto cycle = duty::cycle_of(trip.pieces[1], "second");
  CHECK_THAT(duty::totals(cycle).distance, near(68.0_m, 1e-12));
  CHECK(cycle.phases.at(0).id == duty::whole);
}

TEST_CASE("trip: a log of a rig has no speed and may have a heat", "[duty][derived]") {
  duty::TripForm rig = form();
  rig.standing = true;
  rig.columns.heat = duty::TripColumn{"q", "kW"};
  const duty::Trip trip = duty::trip_from_csv("t,q,v\n0,0.3,50\n1,0.4,x\n2,-0.1,\n", rig);
  const duty::TripPiece& piece = trip.pieces.at(0);
  CHECK(piece.speed == std::vector<Speed>(3));  // what stands under v is not read
  REQUIRE(piece.heat.size() == 3);
  CHECK_THAT(piece.heat[0], near(300.0_W, 1e-12));
  CHECK_THAT(piece.heat[2], near(Power::from_value(-100.0), 1e-12));
  CHECK(trip.report.distance == Length{});
  rig.columns.heat = duty::TripColumn{"q", "N"};
  CHECK_THROWS_WITH(duty::TripReader(rig), Contains("no unit of a power"));
}

TEST_CASE("trip: a long gap splits the heat as well", "[duty][derived]") {
  duty::TripForm rig = form();
  rig.standing = true;
  rig.columns.heat = duty::TripColumn{"q", "W"};
  const duty::Trip trip = duty::trip_from_csv("t,q\n0,1\n1,2\n100,3\n101,4\n102,5\n", rig);
  REQUIRE(trip.pieces.size() == 2);
  CHECK(trip.pieces[0].heat.size() == 2);
  CHECK(trip.pieces[1].heat.size() == 3);
}

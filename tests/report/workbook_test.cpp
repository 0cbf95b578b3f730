#include "report/workbook.hpp"

#include <catch2/catch.hpp>

#include "ohmdrag/report/xlsx.hpp"
#include "report/heads.hpp"
#include "sample_findings.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;

TEST_CASE("the decimals of a cell follow its interval", "[derived]") {
  CHECK(report::number_format({2.4, 3.1, 3.9}) == "0.0");
  CHECK(report::number_format({2.413, 3.127, 3.961}) == "0.00");
  CHECK(report::number_format({13.0, 19.0, 26.0}) == "0");
  CHECK(report::number_format({1300.0, 1900.0, 2600.0}) == "0");
  CHECK(report::number_format({7.0, 7.0, 7.0}) == "0");
  CHECK(report::number_format({0.125, 0.125, 0.125}) == "0.000");
  CHECK(report::number_format({1e-9, 2e-9, 3e-9}) == "0.00E+00");
}

TEST_CASE("keys become heads with units", "[derived]") {
  const auto both = [](const char* key) {
    const report::Head head = report::head_of(key);
    return head.words + '|' + head.unit;
  };
  CHECK(both("own_W") == "own|W");
  CHECK(both("battery_Wh_per_km") == "battery|Wh/km");
  CHECK(both("dose_J_per_mm2_per_1000h") == "dose|J/mm² in 1000 h");
  CHECK(both("striking_time_share") == "striking time share|");
  CHECK(both("contact_temperature_degC") == "contact temperature|°C");
  CHECK(both("phase_deg") == "phase|°");
  CHECK(both("kWh_per_year") == "kWh a year|");
}

TEST_CASE("a workbook is a zip archive and the same each time", "[derived]") {
  for (const std::string& command : commands) {
    const study::Findings f = sample(command);
    const std::string bytes = report::xlsx(f);
    // ZIP File Format Specification (APPNOTE), 4.3.7: the head of a member.
    CHECK(bytes.starts_with("PK\x03\x04"));
    CHECK(bytes == report::xlsx(f));
  }
}

TEST_CASE("a text longer than a cell ends in an ellipsis", "[derived]") {
  study::Findings f = sample("trade");
  f.title = std::string(40000, 'x');
  CHECK_NOTHROW(report::xlsx(f));
  f.variants[0].id = "=1+1";
  f.variants[1].title = "ends in the middle of … " + std::string(32760, 'y') + "…………";
  CHECK_NOTHROW(report::xlsx(f));
}

TEST_CASE("sheets whose names begin alike are numbered", "[derived]") {
  report::Workbook book;
  const std::string name(40, 'n');
  CHECK(book.sheet(name) != book.sheet(name));
  CHECK(!book.bytes().empty());
}

#include "ohmdrag/report/csv.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "report/csv_cell.hpp"
#include "report/data_tables.hpp"
#include "sample_findings.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using report::DataTable;
using report::Value;

namespace {

std::string file_of(const std::vector<report::CsvFile>& files, const std::string& name) {
  const auto found = std::ranges::find(files, name, &report::CsvFile::name);
  REQUIRE(found != files.end());
  return found->content;
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

}  // namespace

// RFC 4180, section 2, rules 5 to 7, with the examples printed there. The RFC would keep a line end
// inside quotes; here a cell is one line.
TEST_CASE("cells are quoted as RFC 4180 says", "[derived]") {
  CHECK(report::csv_cell("aaa") == "aaa");
  CHECK(report::csv_cell("b\"bb") == "\"b\"\"bb\"");
  CHECK(report::csv_cell("a,b") == "\"a,b\"");
  CHECK(report::csv_cell("b\r\nbb") == "b bb");
}

TEST_CASE("what a spreadsheet would compute begins with an apostrophe", "[derived]") {
  CHECK(report::csv_cell_for_spreadsheets("=1+1") == "'=1+1");
  CHECK(report::csv_cell_for_spreadsheets("@SUM(1,2)") == "\"'@SUM(1,2)\"");
  CHECK(report::csv_cell_for_spreadsheets("+cmd") == "'+cmd");
  CHECK(report::csv_cell_for_spreadsheets("-5 (-8 … -2)") == "'-5 (-8 … -2)");
  CHECK(report::csv_cell_for_spreadsheets("\t=1") == "' =1");
  CHECK(report::csv_cell_for_spreadsheets("-5") == "-5");  // a number is a number
  CHECK(report::csv_cell_for_spreadsheets("dense-ring") == "dense-ring");
  CHECK(report::csv_cell_for_spreadsheets("").empty());
}

TEST_CASE("an interval has three columns, and numbers read back to the same double", "[derived]") {
  study::Findings f = sample("trade");
  f.variants[0].budget[0].own_W = {0.1, 1.0 / 3.0, 1e-300};
  const std::string budget = file_of(report::csv(f), "budget.csv");
  CHECK_THAT(first_line(budget), Catch::Contains("variant,point,component,") &&
                                     Catch::Contains(",own_W_low,own_W_mid,own_W_high,"));
  CHECK_THAT(budget, Catch::Contains(",0.1,0.3333333333333333,1e-300,"));
}

TEST_CASE("what is infinite or undefined is an empty cell", "[derived]") {
  study::Findings f = sample("trade");
  f.variants[0].budget[0].own_W = {1.25, infinity, not_a_number};
  CHECK_THAT(file_of(report::csv(f), "budget.csv"), Catch::Contains(",1.25,,,"));
}

TEST_CASE("a table has a row for each observation and says of what", "[derived]") {
  const study::Findings f = sample("trade");
  const auto tables = report::data_tables(report::document_of(f));
  const DataTable* budget = report::find_table(tables, "budget");
  REQUIRE(budget);
  CHECK(budget->columns[0] == "variant");
  std::size_t rows = 0, bands = 0;
  for (const auto& variant : f.variants) {
    rows += variant.budget.size();
    for (const auto& voltage : variant.voltage) bands += voltage.bands.size();
  }
  CHECK(budget->rows.size() == rows);

  const DataTable* within = report::find_table(tables, "voltage_bands");
  REQUIRE(within);
  CHECK(within->rows.size() == bands);
  CHECK(std::get<std::string>(within->rows[0][within->column("variant")]) == f.variants[0].id);
  CHECK(std::get<std::string>(within->rows[0][within->column("point")]) ==
        f.variants[0].voltage[0].point);

  const DataTable* by_point = report::find_table(tables, "exchange_net_W_by_point");
  REQUIRE(by_point);
  CHECK(by_point->rows.size() == f.trade->exchange.size() * f.points.size());
  CHECK(std::get<Interval>(by_point->rows.back()[by_point->column("net_W")]).mid ==
        f.trade->exchange.back().net_W_by_point.back().mid);
}

TEST_CASE("a seed that a double cannot hold stays whole", "[derived]") {
  const auto tables = report::data_tables(report::document_of(sample("trade")));
  const DataTable* study = report::find_table(tables, "study");
  REQUIRE(study);
  CHECK(std::get<std::string>(study->rows[0][study->column("seed")]) == "18446744073709551615");
}

TEST_CASE("flags stand in one cell, nested objects in columns", "[derived]") {
  const auto tables = report::data_tables(report::document_of(sample("trade")));
  const DataTable* assumptions = report::find_table(tables, "assumptions");
  REQUIRE(assumptions);
  CHECK(std::get<double>(assumptions->rows[0][assumptions->column("moves_share")]) == 0.613);
  const DataTable* budget = report::find_table(tables, "budget");
  const auto flags = budget->column("flags");
  REQUIRE(flags < budget->columns.size());
  for (const auto& row : budget->rows)
    CHECK((std::holds_alternative<std::string>(row[flags]) || row[flags].index() == 0));
}

TEST_CASE("no table repeats a name, no line is shorter than its head", "[derived]") {
  for (const std::string& command : commands) {
    const auto files = report::csv(sample(command));
    std::vector<std::string> names;
    for (const auto& file : files) {
      names.push_back(file.name);
      CHECK(file.content.ends_with('\n'));
    }
    std::ranges::sort(names);
    CHECK(std::ranges::adjacent_find(names) == names.end());
  }
  for (const DataTable& table : report::data_tables(report::document_of(sample("trade")))) {
    auto columns = table.columns;
    std::ranges::sort(columns);
    CHECK(std::ranges::adjacent_find(columns) == columns.end());
    for (const auto& row : table.rows) CHECK(row.size() == table.columns.size());
  }
}

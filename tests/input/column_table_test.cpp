// The mapped columns of files as instruments write them.

#include "input/column_table.hpp"

#include <zlib.h>

#include "input/document.hpp"
#include "input/support.hpp"
#include "ohmdrag/input/input_error.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using test::Folder;

namespace {

constexpr std::array<input::MappedColumn, 3> mapped{
    input::MappedColumn{"time", Dimension::time},
    input::MappedColumn{.key = "torque", .dimension = Dimension::torque, .required = false},
    input::MappedColumn{.key = "specimen", .required = false, .words = true}};

const std::string time_and_torque = R"(file = "log.csv"
time = { name = "t", unit = "min" }
torque = { name = "T", unit = "mN m" }
)";

struct Read {
  std::optional<input::ColumnTable> table;
  std::string complaint;
};

Read read(const Folder& folder, const std::string& keys, input::BadRows bad_rows) {
  const std::string file = folder.write("table.toml", keys).string();
  input::Problems problems;
  const input::Node root = input::parse_document(keys, file, problems);
  std::vector<std::string> warnings;
  input::ReadContext context{problems,
                             warnings,
                             [](std::string_view) { return nullptr; },
                             {[](std::string_view, std::string_view) { return std::nullopt; },
                              [](std::string_view) { return std::vector<std::string>{}; }}};
  input::TableReader table(context, &root, {});
  study::Provenance provenance;
  auto read = input::read_column_table(table, table, mapped, {"file", bad_rows}, provenance);
  table.done();
  return {std::move(read), problems.first()};
}

Read read_log(const std::string& log, const std::string& keys = time_and_torque,
              input::BadRows bad_rows = input::BadRows::leave_out) {
  const Folder folder;
  folder.write("log.csv", log);
  return read(folder, keys, bad_rows);
}

std::string rows(int count) {
  std::string text;
  for (int i = 0; i < count; ++i) text += std::to_string(i) + ";1,5\n";
  return text;
}

}  // namespace

TEST_CASE("a line of units below the header is no row", "[derived]") {
  const Read log = read_log("t;T;other\nmin;mN·m;-\n0;2,5;x\n1;3;y\n");
  REQUIRE(log.table);
  CHECK(log.table->columns[0] == std::vector{0.0, 60.0});
  CHECK(log.table->columns[1] == std::vector{0.0025, 0.003});
  CHECK(log.table->left_out.empty());
}

TEST_CASE("a second line of words is a row that cannot be read", "[derived]") {
  const Read log = read_log("t;T\nmin;mNm\nmin;mNm\n" + rows(20));
  REQUIRE(log.table);
  CHECK(log.table->left_out.size() == 1);
}

TEST_CASE("rows that cannot be read are left out and told, or refuse the table", "[derived]") {
  const std::string text = "t;T\n" + rows(30) + "30;overload\n31\n32;nan\n";
  const Read patient = read_log(text);
  REQUIRE(patient.table);
  CHECK(patient.table->rows() == 30);
  CHECK(patient.table->columns[1].size() == 30);
  REQUIRE(patient.table->left_out.size() == 3);
  CHECK_THAT(patient.table->left_out[0], Contains("line 32: read \"overload\" for \"T\""));
  CHECK_THAT(patient.table->left_out[1], Contains("line 33: has no cell for \"T\""));
  const Read strict = read_log(text, time_and_torque, input::BadRows::refuse);
  CHECK_FALSE(strict.table);
  CHECK_THAT(strict.complaint, Contains("line 32: read \"overload\""));
}

TEST_CASE("a table of which a tenth cannot be read is refused", "[derived]") {
  const Read log = read_log("t;T\n" + rows(17) + "18;-\n19;-\n");
  CHECK_FALSE(log.table);
  CHECK_THAT(log.complaint, Contains("2 of 19 rows cannot be read; line 19"));
}

TEST_CASE("a column that is not mapped stays empty, one of words is text", "[derived]") {
  const Read log = read_log("t,part\n0,\"A 1\"\n1,B\n",
                            "file = \"log.csv\"\ntime = { name = \"t\", unit = \"s\" }\n"
                            "specimen = { name = \"part\" }\n");
  REQUIRE(log.table);
  CHECK(log.table->rows() == 2);
  CHECK(log.table->columns[1].empty());
  CHECK(log.table->columns[2].empty());
  CHECK(log.table->words[2] == std::vector<std::string>{"A 1", "B"});
  const Read with_unit = read_log("t,part\n0,A\n",
                                  "file = \"log.csv\"\ntime = { name = \"t\", unit = \"s\" }\n"
                                  "specimen = { name = \"part\", unit = \"s\" }\n");
  CHECK_THAT(with_unit.complaint, Contains("there is no such key"));
}

TEST_CASE("bytes that are no UTF-8 are read as ISO 8859-1", "[derived]") {
  const Read log = read_log("t;T [\xB5Nm]\n0;5\n",
                            "file = \"log.csv\"\ntime = { name = \"t\", unit = \"s\" }\n"
                            "torque = { name = \"T [µNm]\", unit = \"N m\" }\n");
  CAPTURE(log.complaint);
  REQUIRE(log.table);
  CHECK(log.table->columns[1] == std::vector{5.0});
}

TEST_CASE("a log may be compressed, and a damaged archive is refused", "[derived]") {
  const Folder folder;
  const std::string file = (folder.path() / "log.csv").string();
  const std::string text = "t;T\n" + rows(2000);
  const gzFile archive = gzopen(file.c_str(), "wb");
  gzwrite(archive, text.data(), static_cast<unsigned>(text.size()));
  gzclose(archive);
  const Read whole = read(folder, time_and_torque, input::BadRows::refuse);
  REQUIRE(whole.table);
  CHECK(whole.table->rows() == 2000);
  std::filesystem::resize_file(file, std::filesystem::file_size(file) / 2);
  const Read half = read(folder, time_and_torque, input::BadRows::refuse);
  CHECK_FALSE(half.table);
  CHECK_THAT(half.complaint, Contains("the archive ends before its text does"));
}

// `ohmdrag sweep`: its designs, from options, files and lists, and what is refused before any row.

#include <cmath>
#include <set>

#include "sweep_table.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using test::SweepTable, test::check_refused, test::diameter, test::force, test::swept,
    test::table_of;
namespace fs = std::filesystem;

TEST_CASE("a factorial design has every level with every other, the last axis fastest",
          "[derived]") {
  const test::Folder folder;
  const std::string file = folder.write("case.toml", test::tiny_case()).string();
  const SweepTable table = table_of(file, {"--axis", diameter + "=30 mm to 0.05 m in 3 steps",
                                           "--axis", force + "=0.05 N/mm; 0.1 N/mm"});
  REQUIRE(table.lines.size() == 6);
  const std::string mm = diameter + " [mm]", per_mm = force + " [N/mm]";
  for (std::size_t i = 0; i < 6; ++i) {
    CHECK(table.number(i, mm) == 30.0 + 10.0 * std::floor(double(i) / 2.0));
    CHECK(table.number(i, per_mm) == (i % 2 == 0 ? 0.05 : 0.1));
  }
  // More force and a larger shaft both cost watts.
  CHECK(table.number(1, "fast.total_W") > table.number(0, "fast.total_W"));
  CHECK(table.number(2, "fast.total_W") > table.number(0, "fast.total_W"));
  CHECK(table.number(5, "fast.total_W") > table.number(4, "fast.total_W"));

  const SweepTable ratio =
      table_of(file, {"--axis", force + "=0.01 to 0.16 N/mm in 5 steps by ratio"});
  for (std::size_t i = 0; i < 5; ++i)
    CHECK(ratio.number(i, per_mm) == Approx(0.01 * std::pow(2.0, double(i))).epsilon(1e-14));
  // What has no common unit is text, as it was typed.
  const SweepTable texts = table_of(file, {"--axis", force + "=0.05 N/mm ± 20 %; 60 N/m", "--axis",
                                           "variant.lip.seal.element=light-lip; standard-lip"});
  CHECK(texts.cell(0, force) == "0.05 N/mm ± 20 %");
  CHECK(texts.cell(3, force) == "60 N/m");
  CHECK(texts.cell(3, "variant.lip.seal.element") == "standard-lip");
}

TEST_CASE("a design file holds axes with values, steps and spread; what is typed wins",
          "[derived]") {
  const test::Folder folder;
  const std::string file = folder.write("case.toml", test::tiny_case()).string();
  const std::string design = folder
                                 .write("design.toml", R"([[axis]]
key = "shaft.rotor.diameter"
values = ["30 mm", "40 mm"]
[[axis]]
key = "variant.lip.seal.line_force"
from = "0.05 N/mm"
to = "0.2 N/mm"
steps = 3
scale = "ratio"
spread = "± 20 %"
)")
                                 .string();
  const SweepTable table = table_of(file, {"--design", design, "--draws"});
  REQUIRE(table.lines.size() == 6);
  CHECK(table.number(1, force + " [N/mm]") == Approx(0.1).epsilon(1e-12));
  // The spread that a bare value would have taken away.
  CHECK(table.number(0, "slow.total_W_high") > 1.1 * table.number(0, "slow.total_W_low"));
  const SweepTable typed = table_of(file, {"--design", design, "--axis", diameter + "=35 mm"});
  REQUIRE(typed.lines.size() == 3);
  CHECK(typed.number(0, diameter + " [mm]") == 35.0);

  const auto refused = [&](const std::string& text, const std::string& why) {
    check_refused(swept(file, {"--design", folder.write("bad.toml", text).string()}), why);
  };
  refused("[[axis]]\nkey = \"shaft.rotor.diameter\"\nvalue = [\"30 mm\"]\n", "did you mean");
  refused("[[axis]]\nkey = \"shaft.rotor.diameter\"\nfrom = \"30 mm\"\nto = \"40 mm\"\n",
          "without steps");
  refused("[[axis]]\nkey = \"shaft.rotor.diameter\"\nfrom = \"30 mm\"\nto = \"4 N\"\nsteps = 2\n",
          "one dimension");
  refused(
      "[[axis]]\nkey = \"operating_point.slow.oil_temperature\"\nfrom = \"30 degC\"\nto = \"90 "
      "degC\"\nsteps = 3\nscale = \"ratio\"\n",
      "convention");
  refused("[design]\nkind = \"quasi-random\"\n", "points");
  refused("[design]\nkind = \"random\"\n", "quasi-random");
}

TEST_CASE("a list is taken row by row, with units in its head and cells left empty", "[derived]") {
  const test::Folder folder;
  const std::string file = folder.write("case.toml", test::tiny_case()).string();
  const auto listed = [&](const std::string& text) {
    return swept(file, {"--list", folder.write("rows.csv", text).string()});
  };
  const test::Ran ran = listed("\xEF\xBB\xBF# rows of an invented test\r\n" + diameter + " [mm]," +
                               force + "\r\n30,0.05 N/mm\r\n\r\n,\"0.1 N/mm\"\r\n50,\r\n");
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  const SweepTable table = test::sweep_table(ran.out);
  REQUIRE(table.lines.size() == 3);
  CHECK(table.cell(1, diameter + " [mm]").empty());
  const SweepTable same = table_of(file, {"--axis", force + "=0.1 N/mm"});
  CHECK(table.number(1, "fast.total_W") == same.number(0, "fast.total_W"));

  check_refused(listed(diameter + "," + force + "\n30 mm\n"), "rows.csv:2:1");
  check_refused(listed(diameter + "," + diameter + "\n30 mm,40 mm\n"), "twice");
  check_refused(listed(diameter + "\n"), "no rows");
  check_refused(listed(diameter + "\n\"30 mm\n"), "not closed");
  check_refused(listed("shaft.rotor.diametre\n30 mm\n"), "diameter");
  check_refused(swept(file, {"--list", (folder.path() / "none.csv").string()}), "no such file");
}

TEST_CASE("quasi-random points fill each axis evenly, and more of them keep the first",
          "[derived]") {
  const test::Folder folder;
  const std::string file = folder.write("case.toml", test::tiny_case()).string();
  const test::Arguments axes{"--axis", diameter + "=30 mm to 50 mm", "--axis",
                             force + "=0.01 N/mm to 1 N/mm by ratio"};
  const auto points = [&](const std::string& count) {
    test::Arguments arguments = axes;
    arguments.insert(arguments.end(), {"--points", count});
    return table_of(file, arguments);
  };
  const SweepTable few = points("16");
  REQUIRE(few.lines.size() == 16);
  std::set<int> of_diameter, of_force;
  for (std::size_t i = 0; i < 16; ++i) {
    of_diameter.insert(int((few.number(i, diameter + " [mm]") - 30.0) / 20.0 * 16.0));
    of_force.insert(int((std::log10(few.number(i, force + " [N/mm]")) + 2.0) / 2.0 * 16.0));
  }
  CHECK(of_diameter.size() == 16);
  CHECK(of_force.size() == 16);
  const SweepTable more = points("20");
  for (std::size_t i = 0; i < 16; ++i) CHECK(more.lines[i] == few.lines[i]);
  check_refused(swept(file, {"--axis", diameter + "=30 mm; 40 mm", "--points", "4"}),
                "range without steps");
  check_refused(swept(file, {"--axis", diameter + "=30 mm to 40 mm", "--points", "0"}), "0 points");
}

TEST_CASE("a key that the case does not know ends the sweep before any row", "[derived]") {
  const test::Folder folder;
  const std::string file = folder.write("case.toml", test::tiny_case()).string();
  const fs::path out = folder.path() / "rows.csv";
  const auto refused = [&](const std::string& key, const std::string& hint) {
    const test::Ran ran = swept(file, {"--axis", diameter + "=30 mm; 40 mm", "--axis",
                                       key + "=46 mm; 47 mm", "--out", out.string()});
    check_refused(ran, key);
    CHECK_THAT(ran.err, Contains(hint));
    CHECK_FALSE(fs::exists(out));
  };
  refused("shaft.rotor.diametr", "did you mean diameter");
  refused("shaft.rotr.diameter", "rotor");
  refused("shafts.rotor.diameter", "shaft");
  check_refused(swept(file, {"--axis", diameter}), "expected KEY=");
  check_refused(swept(file, {"--axis", diameter + "=30 mm", "--axis", diameter + "=40 mm"}),
                "twice");
  check_refused(swept(file, {}), "no axis");
  // Where no value can be read the first complaint is the answer.
  check_refused(swept(file, {"--axis", diameter + "=30 N; 40 N"}), "a length");
}

// `ohmdrag sweep`: what its rows say.

#include <cmath>
#include <nlohmann/json.hpp>

#include "sweep_table.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;
using test::SweepTable, test::diameter, test::force, test::swept, test::table_of;
namespace fs = std::filesystem;

namespace {

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const std::size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

/// A cell against a figure of the result document, where infinity is null.
void check_figure(const SweepTable& table, std::size_t line, const std::string& head,
                  const json& figure) {
  CAPTURE(head, line, figure.dump());
  if (figure.is_null())
    CHECK((table.cell(line, head).empty() || table.cell(line, head) == "inf"));
  else
    CHECK(table.number(line, head) == figure.get<double>());
}

/// All that a row says of a variant against the trade study of the same case, to the last digit.
void check_as_trade(const SweepTable& table, const json& trade, bool draws) {
  const json& exchange = trade.at("trade").at("exchange");
  REQUIRE(table.lines.size() == exchange.size());
  for (std::size_t v = 0; v < exchange.size(); ++v) {
    const json& row = exchange[v];
    const json& variant = trade.at("variants")[v];
    CHECK(table.cell(v, "variant") == row.at("variant"));
    CHECK(table.cell(v, "chosen") ==
          (trade.at("trade").at("chosen") == row.at("variant") ? "yes" : "no"));
    CHECK(table.cell(v, "nondominated") == (row.at("nondominated").get<bool>() ? "yes" : "no"));
    CHECK(table.number(v, "requirements_met") == row.at("requirements_met"));
    CHECK(table.number(v, "requirements_asked") == row.at("requirements_asked"));
    CHECK_THAT(table.cell(v, "remark"),
               Contains(row.at("verdict").get<std::string>().substr(0, 60)));
    const auto check = [&](const std::string& head, const json& interval) {
      const bool there = interval.is_object();
      check_figure(table, v, head, there ? interval.at("mid") : interval);
      if (!draws) return;
      check_figure(table, v, head + "_low", there ? interval.at("low") : interval);
      check_figure(table, v, head + "_high", there ? interval.at("high") : interval);
    };
    const json& points = trade.at("case").at("points");
    for (std::size_t p = 0; p < points.size(); ++p)
      check(points[p].get<std::string>() + ".net_W", row.at("net_W_by_point")[p]);
    check("battery_Wh_per_km", row.at("battery_Wh_per_km"));
    check("impedance_at_1_MHz_ohm", row.at("impedance_end_of_service_ohm"));
    check("edge_peak_V", row.at("edge_peak_V"));
    check("held_V", row.at("held_V"));
    check("striking_time_share", row.at("striking_time_share"));
    check("striking_time_share_removed", row.at("striking_time_share_removed"));
    check("dose_factor", row.at("dose_factor"));
    check("basic_life_h", variant.at("life_system").at("basic_h"));
    check("modified_life_h", variant.at("life_system").at("modified_h"));
    if (draws) CHECK(table.number(v, "probability_best") == row.at("probability_best"));
    double hottest = -300.0;
    for (const json& part : variant.at("budget"))
      if (part.at("contact_temperature_degC").is_object())
        hottest = std::max(hottest, part.at("contact_temperature_degC").at("mid").get<double>());
    // Of draws the middle of the hottest, which is not the hottest of the middles.
    if (!draws) CHECK(table.number(v, "contact_temperature_degC") == hottest);
  }
}

}  // namespace

TEST_CASE("one row of a sweep says what the trade study says", "[derived]") {
  const std::string van = test::shipped_case("parcel-van").string();
  const std::string key = "variant.dense-ring.grounding.line_force";
  for (const bool draws : {false, true}) {
    const std::string samples = draws ? "study.samples=6" : "study.samples=1";
    const json trade = json::parse(test::ohmdrag({"trade", van, "--json", "--set", samples, "--set",
                                                  key + "=0.02 N/mm ± 10 %"})
                                       .out);
    test::Arguments sweep{"--axis", key + "=0.02 N/mm ± 10 %", "--set", samples};
    if (draws) sweep.push_back("--draws");
    check_as_trade(table_of(van, sweep), trade, draws);
  }
}

TEST_CASE("without draws every number stands at its middle", "[derived]") {
  const test::Folder folder;
  const std::string with = test::tiny_case();
  std::string without = replaced(with, "80 ± 5 degC", "80 degC");
  without = replaced(without, "0.08 N/mm ± 20 %", "0.08 N/mm");
  const test::Arguments axis{"--axis", diameter + "=40 mm"};
  const SweepTable spread = table_of(folder.write("with.toml", with).string(), axis);
  const SweepTable exact = table_of(folder.write("without.toml", without).string(), axis);
  CHECK(std::ranges::find(spread.heads, "fast.total_W_low") == spread.heads.end());
  for (const std::string head : {"slow.total_W", "fast.total_W", "contact_temperature_degC"})
    CHECK(spread.number(0, head) == Approx(exact.number(0, head)).epsilon(1e-12));
}

TEST_CASE("a row that is refused says why, and the sweep goes on", "[derived]") {
  const test::Folder folder;
  const std::string file = folder.write("case.toml", test::tiny_case()).string();
  const fs::path out = folder.path() / "rows.csv";
  const test::Ran ran = swept(
      file, {"--axis", diameter + "=-3 mm; 40 mm; 12 N; 50 mm", "--out", out.string(), "--json"});
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  const SweepTable table = test::sweep_table(test::file_text(out));
  REQUIRE(table.lines.size() == 4);
  for (const std::size_t bad : {0U, 2U}) {
    CHECK(table.cell(bad, "variant").empty());
    CHECK(table.cell(bad, "fast.total_W").empty());
    CHECK_THAT(table.cell(bad, "remark"), Catch::StartsWith("refused: shaft.rotor.diameter"));
  }
  CHECK_THAT(table.cell(2, "remark"), Contains("12 N"));
  CHECK(table.number(3, "fast.total_W") > table.number(1, "fast.total_W"));
  const json row = json::parse(ran.out).at("rows").at(0);
  CHECK(row.at("refused in this run") == "2");
  CHECK(row.at("complete") == "yes");
}

TEST_CASE("a formula outside its range is flagged in its row", "[derived]") {
  const test::Folder folder;
  const std::string file = folder.write("case.toml", test::tiny_case()).string();
  const SweepTable table = table_of(file, {"--axis", force + "=0.1 N/mm; 20 N/mm"});
  const std::string usual = table.cell(0, "flags"), beyond = table.cell(1, "flags");
  CAPTURE(usual, beyond);
  CHECK_THAT(usual, Contains("lip-estimate"));
  // A contact of thousands of degrees: more is said than of a sound one, and nothing less.
  CHECK(beyond.size() > usual.size());
}

TEST_CASE("a cell without a figure is named in the remark", "[derived]") {
  const SweepTable table =
      table_of(test::shipped_case("parcel-van").string(), {"--axis", diameter + "=45 mm"});
  std::size_t empty = 0;
  for (const auto& line : table.lines)
    for (std::size_t c = table.column("requirements_asked") + 2; c + 2 < line.size(); ++c) {
      if (!line[c].empty()) continue;
      ++empty;
      CAPTURE(table.heads[c]);
      CHECK_THAT(line.back(), Contains("no " + table.heads[c] + ": "));
    }
  CHECK(empty > 0);  // the baseline has no grounding contact
}

TEST_CASE("text of a hostile case and axis can only be shown", "[derived]") {
  const test::Folder folder;
  const std::string text = replaced(test::tiny_case(), "\"One lip on one shaft\"",
                                    "\"a \\u001b[31mred\\nrow,1,2 \\u202e\\\"title\\\"\"");
  const std::string file = folder.write("case.toml", text).string();
  const std::string design = folder
                                 .write("design.toml",
                                        "[[axis]]\nkey = \"variant.lip.title\"\n"
                                        "values = [\"one, \\\"two\\\"\", \"line\\n99,lip\", "
                                        "\"\\u001b]0;x\\u0007\", \"=1+1\"]\n")
                                 .string();
  const test::Ran ran = swept(file, {"--design", design});
  CAPTURE(ran.err);
  REQUIRE(ran.status == 0);
  for (const char c : ran.out) CHECK((c == '\n' || static_cast<unsigned char>(c) >= 0x20));
  CHECK(ran.out.find("\xE2\x80\xAE") == std::string::npos);
  const SweepTable table = test::sweep_table(ran.out);
  REQUIRE(table.lines.size() == 4);
  CHECK(table.cell(0, "variant.lip.title") == "one, \"two\"");
  CHECK(table.cell(1, "variant.lip.title") == "line 99,lip");
}

TEST_CASE("one and two threads write the same bytes", "[derived]") {
  const test::Folder folder;
  const std::string tiny = folder.write("case.toml", test::tiny_case()).string();
  const std::string van = test::shipped_case("parcel-van").string();
  test::Surroundings one;
  one.on_one_processor = true;
  for (const test::Arguments& arguments :
       {test::Arguments{"sweep", tiny, "--draws", "--axis",
                        diameter + "=20 mm to 60 mm in 60 steps"},
        test::Arguments{"sweep", van, "--draws", "--set", "study.samples=4", "--axis",
                        diameter + "=40 mm; 45 mm; 50 mm"}}) {
    const test::Ran two = test::ohmdrag(arguments);
    REQUIRE(two.status == 0);
    CHECK(test::ohmdrag(arguments, one).out == two.out);
  }
}

TEST_CASE("memory does not grow with the number of rows", "[derived]") {
  const test::Folder folder;
  const std::string file = folder.write("case.toml", test::tiny_case()).string();
  // Measured by a small process: what forks a program counts towards its peak.
  const std::string peak_kB =
      "import resource, subprocess, sys; subprocess.run(sys.argv[1:], check=True); "
      "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)";
  test::Surroundings around;
  around.environment["ASAN_OPTIONS"] = "quarantine_size_mb=1";  // freed memory kept by a sanitizer
  const auto peak = [&](const std::string& steps) {
    const test::Ran ran =
        test::ran({"/usr/bin/python3", "-c", peak_kB, test::built_program(), "sweep", file,
                   "--quiet", "--axis", diameter + "=20 mm to 60 mm in " + steps + " steps",
                   "--out", (folder.path() / ("rows" + steps + ".csv.gz")).string()},
                  around);
    CAPTURE(ran.err);
    REQUIRE(ran.status == 0);
    return std::stod(ran.out);
  };
  const double few = peak("100");
  const double many = peak("10000");
  CAPTURE(few, many);
  CHECK(many < 1.25 * few);
}

TEST_CASE("progress shows rate and time left on a terminal, and --quiet nothing", "[derived]") {
  const test::Folder folder;
  const std::string van = test::shipped_case("parcel-van").string();
  test::Surroundings terminal;
  terminal.errors_on_terminal = true;
  const test::Arguments sweep{"sweep", van, "--axis", diameter + "=40 mm to 50 mm in 80 steps",
                              "--out"};
  test::Arguments loud = sweep, quiet = sweep;
  loud.push_back((folder.path() / "loud.csv").string());
  quiet.insert(quiet.end(), {(folder.path() / "quiet.csv").string(), "--quiet"});
  const test::Ran shown = test::ohmdrag(loud, terminal);
  CHECK_THAT(shown.err, Contains(" of 80, ") && Contains("rows/s") && Contains("left"));
  CHECK_THAT(shown.err, Contains("rows 1 to 80 of 80"));
  CHECK(test::ohmdrag(quiet, terminal).err.empty());
}

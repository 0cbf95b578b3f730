// What a user gets for every kind of bad input: exit status 2, a complaint that an editor can jump
// to, and nothing else.

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <regex>

#include "program.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using test::Folder;
using test::Ran;
namespace fs = std::filesystem;

namespace {

/// The least that loads: one lip on one shaft.
const std::string smallest = R"([study]
title = "One lip"
[[shaft]]
id = "rotor"
diameter = "45 mm"
[[operating_point]]
id = "fast"
shaft_speed = "9000 rpm"
oil_temperature = "70 degC"
[[variant]]
id = "plain"
[variant.seal]
element = "light-lip"
shaft = "rotor"
position = "12 mm"
line_force = "0.08 N/mm"
)";

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const std::size_t at = text.find(what);
  CAPTURE(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::size_t code_points(const std::string& text) {
  return static_cast<std::size_t>(
      std::ranges::count_if(text, [](char c) { return (c & 0xC0) != 0x80; }));
}

/// One complaint as it stands on standard error.
struct Complaint {
  std::string file;
  std::size_t line = 0;
  std::size_t column = 0;
  std::string text;
  std::string excerpt;
  std::optional<std::size_t> caret;  ///< column it points at
  std::vector<std::string> hints;
};

std::vector<Complaint> complaints_in(const std::string& err) {
  static const std::regex head{R"((.+):(\d+):(\d+): error: (.+))"};
  static const std::regex excerpt{R"( +\d+ \| (.*))"};
  static const std::regex pointer{R"( +\| ( *)\^~*)"};
  std::vector<Complaint> found;
  for (const std::string& line : test::lines_of(err)) {
    std::smatch m;
    if (std::regex_match(line, m, head)) {
      found.push_back({m[1], std::stoul(m[2]), std::stoul(m[3]), m[4], {}, {}, {}});
      continue;
    }
    INFO("a line that belongs to no complaint: " << line);
    REQUIRE_FALSE(found.empty());
    Complaint& last = found.back();
    if (std::regex_match(line, m, excerpt))
      last.excerpt = m[1];
    else if (std::regex_match(line, m, pointer))
      last.caret = m[1].length() + 1;
    else if (line.starts_with("  hint: "))
      last.hints.push_back(line.substr(8));
    else
      FAIL("neither complaint, excerpt, caret nor hint: " << line);
  }
  return found;
}

/// What holds for every refusal, whatever was wrong.
void check_refused(const Ran& ran) {
  CAPTURE(ran.out, ran.err);
  CHECK(ran.status == 2);
  CHECK(ran.out.empty());
  CHECK(ran.err.ends_with('\n'));
  CHECK_FALSE(contains(ran.err, "terminate called"));
  CHECK_FALSE(contains(ran.err, "what():"));
  CHECK_FALSE(contains(ran.err, ".cpp"));
  CHECK_FALSE(contains(ran.err, "\x1b"));
  CHECK(ran.cpu_s < 1.0);
}

/// And for every complaint about a line of a file.
void check_points_at_its_line(const Complaint& c) {
  CAPTURE(c.file, c.line, c.column, c.text);
  const auto lines = test::lines_of(test::file_text(c.file));
  REQUIRE(c.line >= 1);
  REQUIRE(c.line <= lines.size());
  CHECK(c.excerpt == lines[c.line - 1]);
  CHECK(c.column >= 1);
  CHECK(c.column <= code_points(lines[c.line - 1]) + 1);
  CHECK(c.caret == c.column);
  CHECK(c.hints.size() <= 1);
}

std::vector<Complaint> refused(const std::string& text, const std::string& command = "check") {
  const Folder folder;
  const fs::path file = folder.write("case.toml", text);
  const Ran ran = test::ohmdrag({command, file.string()});
  check_refused(ran);
  auto complaints = complaints_in(ran.err);
  for (const Complaint& c : complaints) {
    CHECK(c.file == file.string());
    check_points_at_its_line(c);
  }
  return complaints;
}

struct Row {
  std::string name;
  std::string what;  ///< in the case…
  std::string by;    ///< …is replaced by this
  std::string at;    ///< line of the complaint starts with this
  std::string says;
  std::string hint;  ///< empty: the complaint says it all
};

void check_row(const std::string& text, const Row& row) {
  CAPTURE(row.name);
  const auto complaints = refused(replaced(text, row.what, row.by));
  REQUIRE(complaints.size() == 1);
  const Complaint& c = complaints.front();
  CHECK_THAT(c.excerpt, Catch::Matchers::StartsWith(row.at));
  CHECK_THAT(c.text, Catch::Matchers::Contains(row.says));
  if (row.hint.empty()) return;
  REQUIRE(c.hints.size() == 1);
  CHECK_THAT(c.hints.front(), Catch::Matchers::Contains(row.hint));
}

}  // namespace

TEST_CASE("the smallest case itself is accepted", "[derived]") {
  const Folder folder;
  const Ran ran = test::ohmdrag({"check", folder.write("case.toml", smallest).string()});
  CHECK(ran.status == 0);
}

TEST_CASE("a wrong value is refused with what was expected", "[derived]") {
  const Row row = GENERATE(
      Row{"wrong dimension", "\"0.08 N/mm\"", "\"12 mm\"", "line_force",
          "variant.plain.seal.line_force: read \"12 mm\", a length; expected a force per length "
          "(N/m, N/mm, N/cm)",
          ""},
      Row{"unknown unit", "45 mm", "45 mn", "diameter", "\"mn\" is not a unit",
          "did you mean mm? accepted units: m, mm"},
      Row{"number without its unit", "\"45 mm\"", "45", "diameter", "a length needs a unit",
          "accepted units: m, mm"},
      Row{"text without its unit", "45 mm", "45", "diameter", "needs a unit",
          "accepted units: m, mm"},
      Row{"bare NaN", "\"45 mm\"", "nan", "diameter", "shaft.rotor.diameter: read nan",
          "accepted units: m, mm"},
      Row{"NaN with unit", "45 mm", "nan mm", "diameter", "not a finite number", "accepted units"},
      Row{"bare infinity", "\"45 mm\"", "inf", "diameter", "shaft.rotor.diameter: read inf",
          "accepted units: m, mm"},
      Row{"infinity with unit", "45 mm", "-inf mm", "diameter", "not a finite number",
          "accepted units"},
      Row{"too large for a number", "45 mm", "1e999 mm", "diameter", "1e999 mm", ""},
      Row{"negative diameter", "45 mm", "-45 mm", "diameter",
          "outside the physical range; expected 0 m (excluded) to 2 m", ""},
      Row{"no diameter at all", "45 mm", "0 mm", "diameter",
          "outside the physical range; expected 0 m (excluded) to 2 m", ""},
      Row{"below absolute zero", "70 degC", "-300 degC", "oil_temperature", "below absolute zero",
          "the lowest temperature is -273.15 degC"},
      Row{"percentage of a temperature", "70 degC", "70 degC ± 5 %", "oil_temperature",
          "a percentage of a temperature has no meaning", "± 5 degC"},
      Row{"a number where text belongs", "title = \"One lip\"", "title = 3", "title",
          "study.title: read 3", ""});
  check_row(smallest, row);
}

TEST_CASE("a wrong name is refused with the nearest one known", "[derived]") {
  const Row row = GENERATE(
      Row{"unknown key", "position = ", "positoin = \"9 mm\"\nposition = ", "positoin",
          "variant.plain.seal.positoin: there is no such key", "did you mean position?"},
      Row{"unknown table", "[study]", "[stduy]\nx = 1\n[study]", "[stduy]",
          "stduy: there is no such key", "did you mean study?"},
      Row{"duplicate id", "[[operating_point]]",
          "[[operating_point]]\nid = \"fast\"\nshaft_speed = \"10 rpm\"\n"
          "oil_temperature = \"70 degC\"\n[[operating_point]]",
          "id = \"fast\"", "read \"fast\", which another [[operating_point]] has already", ""},
      Row{"missing element", "light-lip", "ligth-lip", "element", "no such contact",
          "did you mean light-lip?"},
      Row{"missing shaft", "shaft = \"rotor\"", "shaft = \"rotr\"", "shaft", "no such shaft",
          "did you mean rotor?"},
      Row{"like a variant that is missing", "id = \"plain\"", "id = \"plain\"\nlike = \"plan\"",
          "like", "no such variant", "did you mean plain?"},
      Row{"like itself", "id = \"plain\"", "id = \"plain\"\nlike = \"plain\"", "like",
          "runs in a circle: plain -> plain", ""},
      Row{"like in a circle of two", "id = \"plain\"",
          "id = \"plain\"\nlike = \"second\"\n[[variant]]\nid = \"second\"\nlike = \"plain\"",
          "like", "runs in a circle", ""});
  check_row(smallest, row);
}

TEST_CASE("every kind of reference of a whole case is looked up", "[derived]") {
  const std::string van = test::file_text(test::shipped_case("parcel-van"));
  const Row row =
      GENERATE(Row{"baseline", "baseline = \"plain\"", "baseline = \"plian\"", "baseline",
                   "no such variant", "did you mean plain?"},
               Row{"share of a duty", "wltc-cold = 0.4", "wltc-cld = 0.4", "mix",
                   "no duty \"wltc-cld\"", "did you mean wltc-cold?"},
               Row{"lubricant", "\"thin-axle-oil\"", "\"thin-axle-oli\"", "lubricant",
                   "no such lubricant", "did you mean thin-axle-oil?"},
               Row{"cycle", "cycle = \"wltc-3b\"", "cycle = \"wltc-3c\"", "cycle", "no such cycle",
                   "did you mean wltc-3b?"},
               Row{"cycle in a list", "\"eudc\"", "\"eudk\"", "cycle", "no such cycle",
                   "did you mean eudc?"},
               Row{"bearing size", "size = \"6209\"", "size = \"6029\"", "size",
                   "no such bearing size", "did you mean 6209?"},
               Row{"point of a requirement", "point = \"cruise\"", "point = \"cruse\"", "point",
                   "no such operating point", "did you mean cruise?"},
               Row{"component of an allocation", "component = \"seal\"", "component = \"seel\"",
                   "component", "no such component", "did you mean seal?"},
               Row{"quantity of a requirement", "\"net-power\"", "\"net-pwer\"", "quantity",
                   "expected one of", "did you mean net-power?"},
               Row{"damage law", "law = \"dose\"", "law = \"doze\"", "law", "expected one of",
                   "did you mean dose?"},
               Row{"variant of the calibration", "in = \"plain\"", "in = \"plian\"", "calibration",
                   "no such variant", "did you mean plain?"},
               Row{"a bearing twice", "id = \"far-end\"", "id = \"drive-end\"", "id",
                   "another [[bearing]] has already", ""},
               Row{"a variant twice", "id = \"dense-ring\"", "id = \"sparse-ring\"", "id",
                   "another [[variant]] has already", ""});
  check_row(van, row);
}

TEST_CASE("all problems of a file come at once, in the order of the file", "[derived]") {
  std::string text = replaced(smallest, "45 mm", "45 mn");
  text = replaced(text, "9000 rpm", "9000 mm");
  text = replaced(text, "70 degC", "-300 degC");
  text = replaced(text, "element", "elment");
  const auto complaints = refused(text);
  std::vector<std::size_t> lines;
  for (const Complaint& c : complaints) lines.push_back(c.line);
  CHECK(std::ranges::is_sorted(lines));
  for (const std::size_t line : {5U, 8U, 9U, 13U}) CHECK(std::ranges::count(lines, line) == 1);
}

TEST_CASE("every command refuses a bad case in the same words", "[derived]") {
  const std::string text = replaced(smallest, "45 mm", "45 mn");
  const auto words = refused(text);
  REQUIRE(words.size() == 1);
  for (const std::string command : {"trade", "budget", "energy", "ground", "life"}) {
    CAPTURE(command);
    const auto same = refused(text, command);
    REQUIRE(same.size() == 1);
    CHECK(same.front().text == words.front().text);
  }
}

TEST_CASE("--json keeps standard output empty when the case is bad", "[derived]") {
  const Folder folder;
  const fs::path file = folder.write("case.toml", replaced(smallest, "45 mm", "45 mn"));
  check_refused(test::ohmdrag({"trade", file.string(), "--json"}));
}

TEST_CASE("nothing is written when the case is bad", "[derived]") {
  const Folder folder;
  const fs::path file = folder.write("case.toml", replaced(smallest, "45 mm", "45 mn"));
  check_refused(
      test::ohmdrag({"budget", file.string(), "--out", (folder.path() / "out").string()}));
  CHECK_FALSE(fs::exists(folder.path() / "out"));
  CHECK(std::distance(fs::directory_iterator(folder.path()), {}) == 1);
}

TEST_CASE("a bad --set is refused as the command line wrote it", "[derived]") {
  const Folder folder;
  const std::string file = folder.write("case.toml", smallest).string();
  struct Set {
    std::string typed;
    std::string says;
    std::string hint;
  };
  const Set set =
      GENERATE(Set{"shaft.rotor.diameter=45 mn", "\"mn\" is not a unit", "did you mean mm?"},
               Set{"shaft.rotor.diametre=45 mm", "there is no such key", "did you mean diameter?"},
               Set{"shaft.rotr.diameter=45 mm", "rotr", "did you mean rotor?"},
               Set{"shaft.rotor.diameter", "expected KEY=VALUE", "for example --set"});
  CAPTURE(set.typed);
  const Ran ran = test::ohmdrag({"check", file, "--set", set.typed});
  check_refused(ran);
  CHECK_THAT(ran.err, Catch::Matchers::StartsWith("--set 1: error: "));
  CHECK_THAT(ran.err, Catch::Matchers::Contains(set.says));
  CHECK_THAT(ran.err, Catch::Matchers::Contains("  hint: ") && Catch::Matchers::Contains(set.hint));
}

TEST_CASE("files that include each other are refused where they do", "[derived]") {
  const Folder folder;
  const fs::path file = folder.write("case.toml", "include = [\"b.toml\"]\n" + smallest);
  const fs::path other = folder.write("b.toml", "include = [\"case.toml\"]\n");
  const Ran ran = test::ohmdrag({"check", file.string()});
  check_refused(ran);
  const auto complaints = complaints_in(ran.err);
  REQUIRE(complaints.size() == 1);
  CHECK(complaints.front().file == other.string());
  CHECK_THAT(complaints.front().text, Catch::Matchers::Contains("includes this file in turn"));
  check_points_at_its_line(complaints.front());
}

TEST_CASE("an include that is missing or broken is told with the line that asks for it",
          "[derived]") {
  const Folder folder;
  SECTION("missing") {
    const auto file = folder.write("case.toml", "include = [\"none.toml\"]\n" + smallest);
    const Ran ran = test::ohmdrag({"check", file.string()});
    check_refused(ran);
    const auto complaints = complaints_in(ran.err);
    REQUIRE(complaints.size() == 1);
    CHECK(complaints.front().line == 1);
    CHECK_THAT(complaints.front().text, Catch::Matchers::Contains("none.toml") &&
                                            Catch::Matchers::Contains("there is no such file"));
  }
  SECTION("broken") {
    const auto file = folder.write("case.toml", "include = [\"b.toml\"]\n" + smallest);
    const auto other = folder.write("b.toml", "[contact.ring\n");
    const Ran ran = test::ohmdrag({"check", file.string()});
    check_refused(ran);
    const auto complaints = complaints_in(ran.err);
    REQUIRE(complaints.size() == 1);
    CHECK(complaints.front().file == other.string());
  }
}

TEST_CASE("broken TOML is refused at the place where it breaks", "[derived]") {
  const std::string broken =
      GENERATE(as<std::string>{}, "[study\ntitle = \"a\"\n", "[study]\ntitle = \"a\n",
               "[study]\ntitle = \"a\"\ntitle = \"b\"\n", "[study]\ntitle\n", "{\"json\": 1}\n",
               "[study]\nseed = 99999999999999999999999\n", "[study]\ntitle = 'a' 'b'\n", "= = =\n",
               "[study]\ntitle = \"\\q\"\n", "[[study]\n");
  CAPTURE(broken);
  CHECK(refused(broken).size() == 1);
}

TEST_CASE("what is no text file of a case is refused in one line", "[derived]") {
  const Folder folder;
  struct Kind {
    std::string name;
    std::string bytes;
    std::string says;
  };
  using namespace std::string_literals;
  const std::string utf16 = "\xFF\xFE[\0s\0t\0u\0d\0y\0]\0\n\0"s;
  const Kind kind =
      GENERATE_COPY(Kind{"empty", "", "is empty"}, Kind{"blank", " \n\t\r\n", "is empty"},
                    Kind{"byte-order mark alone", "\xEF\xBB\xBF", "is empty"},
                    Kind{"UTF-16", utf16, "expected UTF-8 text"},
                    Kind{"UTF-16, the other way round", "\xFE\xFF\0[\0s\0]"s, "expected UTF-8"},
                    Kind{"Latin-1",
                         "[study]\ntitle = \"Pr\xFC"
                         "fung\"\n",
                         "is not UTF-8 text: a wrong byte in line 2"},
                    Kind{"NUL bytes", "[study]\n\0\0\0"s, "has a NUL byte in line 2"},
                    Kind{"an image", "\x89PNG\r\n\x1a\n\0\0\0\rIHDR"s, "UTF-8"});
  CAPTURE(kind.name);
  const fs::path file = folder.write("case.toml", kind.bytes);
  const Ran ran = test::ohmdrag({"trade", file.string()});
  check_refused(ran);
  const auto lines = test::lines_of(ran.err);
  REQUIRE_FALSE(lines.empty());
  CHECK_THAT(lines.front(), Catch::Matchers::StartsWith(file.string() + ": error: "));
  CHECK_THAT(lines.front(), Catch::Matchers::Contains(kind.says));
  CHECK(lines.size() <= 2);
  if (lines.size() == 2) CHECK_THAT(lines[1], Catch::Matchers::StartsWith("  hint: "));
}

TEST_CASE("what is no readable file at all is refused in one line", "[derived]") {
  const Folder folder;
  const fs::path sub = folder.path() / "case.toml";
  std::string says;
  SECTION("missing") { says = "there is no such file"; }
  SECTION("a folder") {
    fs::create_directory(sub);
    says = "is a folder";
  }
  SECTION("a pipe, which would never end") {
    REQUIRE(::mkfifo(sub.c_str(), 0600) == 0);
    says = "is no regular file";
  }
  SECTION("a link to itself") {
    fs::create_symlink(sub, sub);
    says = "cannot be read";
  }
  SECTION("100 MB") {
    folder.write("case.toml", smallest);
    fs::resize_file(sub, 100'000'000);  // sparse: takes no room on the disk
    says = "is 100 MB large; a case file is at most";
  }
  const Ran ran = test::ohmdrag({"trade", sub.string()});
  check_refused(ran);
  CHECK_THAT(ran.err, Catch::Matchers::StartsWith(sub.string() + ": error: "));
  CHECK_THAT(ran.err, Catch::Matchers::Contains(says));
  CHECK(test::lines_of(ran.err).size() == 1);
}

TEST_CASE("a file below a regular file is refused", "[derived]") {
  const Folder folder;
  const fs::path file = folder.write("case.toml", smallest);
  const Ran ran = test::ohmdrag({"check", (file / "case.toml").string()});
  check_refused(ran);
  CHECK(test::lines_of(ran.err).size() == 1);
}

TEST_CASE("a file without read permission is refused", "[derived]") {
  const Folder folder;
  const fs::path file = folder.write("case.toml", smallest);
  fs::permissions(folder.path(), fs::perms::owner_all | fs::perms::others_exec);
  fs::permissions(file, fs::perms::none);
  test::Surroundings around;
  constexpr int nobody = 65534;
  if (::geteuid() == 0) around.user = nobody;  // permissions do not bind the superuser
  const Ran ran = test::ohmdrag({"check", file.string()}, around);
  if (ran.status == 126 || ran.status == 127) {
    WARN("skipped: the program cannot be started as another user from where it is built");
    return;
  }
  check_refused(ran);
  CHECK_THAT(ran.err, Catch::Matchers::StartsWith(file.string() + ": error: cannot be read: "));
}

TEST_CASE("a formula outside its range computes and says so", "[derived]") {
  // Six times the force at which the ring's resistance is stated; a factor of three is its range.
  const Ran ran = test::ohmdrag({"budget", test::in_source("cases/parcel-van/case.toml"), "--set",
                                 "variant.dense-ring.grounding.line_force=0.09 N/mm", "--json"});
  REQUIRE(ran.status == 0);
  std::string flags;
  const auto document = nlohmann::json::parse(ran.out);
  for (const auto& variant : document.at("variants"))
    for (const auto& row : variant.at("budget")) {
      CHECK(row.at("own_W").at("mid").get<double>() > 0.0);
      for (const auto& flag : row.at("flags")) flags += flag.at("text").get<std::string>() + '\n';
    }
  CHECK_THAT(flags, Catch::Matchers::Contains("resistance of a dry contact over force") &&
                        Catch::Matchers::Contains("the stated range is"));
}

TEST_CASE("a case for which a formula is not defined is refused with the formula's name",
          "[derived]") {
  const Folder folder;
  // A contact wider than its shaft: no heat flow is constricted into it.
  const std::string file =
      folder.write("case.toml", replaced(smallest, "45 mm", "0.001 mm")).string();
  const Ran ran = test::ohmdrag({"budget", file, "--out", (folder.path() / "out").string()});
  check_refused(ran);
  CHECK_THAT(ran.err, Catch::Matchers::StartsWith("ohmdrag: variant plain: "));
  CHECK(test::lines_of(ran.err).size() == 1);
  CHECK_FALSE(fs::exists(folder.path() / "out"));
}

TEST_CASE("bytes that steer a terminal do not reach it from a file", "[derived]") {
  const Folder folder;
  const fs::path file =
      folder.write("case.toml", replaced(smallest, "light-lip", "light\\u001b[31mlip"));
  const Ran ran = test::ohmdrag({"check", file.string()});
  check_refused(ran);
}

TEST_CASE("wrong usage is refused with a word about help", "[derived]") {
  const std::string file = test::shipped_case("buys-nothing").string();
  struct Usage {
    test::Arguments arguments;
    std::string says;
  };
  const Usage usage = GENERATE_COPY(
      Usage{{}, "command"}, Usage{{"nonsense"}, "nonsense"}, Usage{{"budget"}, "CASE is required"},
      Usage{{"budget", file, "--nope"}, "--nope"}, Usage{{"budget", file, "again"}, "again"},
      Usage{{"budget", file, "--set"}, "--set"}, Usage{{"list", "nonsense"}, "nonsense"},
      Usage{{"list"}, "KIND is required"}, Usage{{"new", "nonsense"}, "nonsense"},
      Usage{{"contact"}, "--diameter is required"},
      Usage{{"contact", "--diameter", "40 mm", "--speed", "6000 rpm", "--element", "a\"b"},
            "--element: read \"a\"b\", which is no name"},
      Usage{{"contact", "--diameter", "40 mm", "--speed", "6000 rpm", "--friction", "0.3"},
            "needs a force"},
      Usage{{"contact", "--diameter", "40 mm", "--speed", "6000 rpm", "--line-force", "0.1 N/mm"},
            "--friction"},
      Usage{{"contact", "--diameter", "40 N", "--speed", "6000 rpm", "--line-force", "0.1 N/mm",
             "--friction", "0.3"},
            "read \"40 N\", a force; expected a length"},
      Usage{{"contact", "--diameter", "40 mm", "--speed", "6000 rpm", "--line-force", "0.1 N/mm",
             "--total-force", "3 N", "--friction", "0.3"},
            "give one of"});
  CAPTURE(usage.arguments);
  const Ran ran = test::ohmdrag(usage.arguments);
  check_refused(ran);
  CHECK_THAT(ran.err, Catch::Matchers::Contains(usage.says));
}

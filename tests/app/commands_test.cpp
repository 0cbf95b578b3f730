// Every command on every shipped case, as a user and as a script run it.

#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "app/json_rows.hpp"
#include "app/program.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using nlohmann::json;
using test::find;
namespace fs = std::filesystem;

namespace {

const std::vector<std::string> studies{"trade", "budget", "energy", "ground", "life"};

test::Arguments as_document(const std::string& command, const fs::path& file) {
  return {command, file.string(), "--json", "--quiet"};
}

}  // namespace

TEST_CASE("every study command answers every shipped case with one document", "[derived]") {
  const test::Folder documents;
  for (const fs::path& file : test::shipped_cases())
    for (const std::string& command : studies) {
      CAPTURE(file, command);
      const test::Ran& ran = test::ohmdrag_once(as_document(command, file));
      CHECK(ran.status == 0);
      CHECK(ran.err.empty());
      const json document = json::parse(ran.out, nullptr, false);
      REQUIRE_FALSE(document.is_discarded());  // also if anything stood before or behind it
      CHECK(document.at("schema") == "ohmdrag-result/1");
      CHECK(document.at("command") == command);
      CHECK(ran.out.find('\x1b') == std::string::npos);
      documents.write(file.parent_path().filename().string() + "-" + command + ".json", ran.out);
    }
  const test::Ran valid =
      test::ran({"/usr/bin/python3", test::in_source("tests/report/validate.py"),
                 test::in_source("data/schema/ohmdrag-result-1.json"), documents.path().string()});
  INFO(valid.out << valid.err);
  CHECK(valid.status == 0);
}

TEST_CASE("each command fills its own section and no other", "[derived]") {
  const std::vector<std::pair<std::string, std::string>> sections{
      {"budget", "budget"}, {"energy", "energy"}, {"ground", "voltage"}, {"life", "life"}};
  for (const auto& [command, own] : sections) {
    CAPTURE(command);
    const json document = json::parse(
        test::ohmdrag_once(as_document(command, test::shipped_case("buys-nothing"))).out);
    CHECK_FALSE(document.contains("trade"));
    for (const json& variant : document.at("variants"))
      for (const char* section : {"budget", "energy", "voltage", "life"})
        CHECK((variant.contains(section) && !variant.at(section).empty()) == (own == section));
  }
}

TEST_CASE("a command gives the same figures alone as within the whole study", "[derived]") {
  for (const fs::path& file : test::shipped_cases()) {
    CAPTURE(file);
    const json whole = json::parse(test::ohmdrag_once(as_document("trade", file)).out);
    const json budget = json::parse(test::ohmdrag_once(as_document("budget", file)).out);
    const json energy = json::parse(test::ohmdrag_once(as_document("energy", file)).out);
    for (std::size_t i = 0; i < whole.at("variants").size(); ++i) {
      CHECK(whole["variants"][i].at("budget") == budget["variants"][i].at("budget"));
      CHECK(whole["variants"][i].at("energy") == energy["variants"][i].at("energy"));
    }
  }
}

TEST_CASE("the same input gives the same bytes, on one processor too", "[derived]") {
  for (const fs::path& file : test::shipped_cases()) {
    CAPTURE(file);
    const test::Ran& first = test::ohmdrag_once(as_document("trade", file));
    CHECK((test::ohmdrag(as_document("trade", file)).out == first.out));
    test::Surroundings one;
    one.on_one_processor = true;
    CHECK((test::ohmdrag(as_document("trade", file), one).out == first.out));
  }
}

TEST_CASE("the text is the same twice", "[derived]") {
  const test::Arguments trade{"trade", test::shipped_case("buys-nothing").string()};
  CHECK(test::ohmdrag(trade).out == test::ohmdrag(trade).out);
}

TEST_CASE("every command prints text for every shipped case without a complaint", "[derived]") {
  for (const fs::path& file : test::shipped_cases())
    for (const std::string command : {"budget", "ground", "check"}) {
      CAPTURE(file, command);
      const test::Ran ran = test::ohmdrag({command, file.string(), "--quiet"});
      CHECK(ran.status == 0);
      CHECK(ran.err.empty());
      CHECK(ran.out.size() > 500);
    }
}

TEST_CASE("check lists every value once with basis and source and computes nothing", "[derived]") {
  for (const fs::path& file : test::shipped_cases()) {
    CAPTURE(file);
    const test::Ran ran = test::ohmdrag({"check", file.string(), "--json"});
    CHECK(ran.status == 0);
    const json list = json::parse(ran.out);
    CHECK(list.at("schema") == "ohmdrag-list/1");
    std::vector<std::string> keys;
    for (const json& row : list.at("rows")) {
      keys.push_back(row.at("key"));
      CAPTURE(keys.back());
      CHECK_FALSE(row.at("value").get<std::string>().empty());
      CHECK_FALSE(row.at("unit").get<std::string>().empty());
      CHECK_FALSE(row.at("basis").get<std::string>().empty());
      CHECK_FALSE(row.at("source").get<std::string>().empty());
    }
    CHECK(keys.size() > 40);
    std::ranges::sort(keys);
    CHECK(std::ranges::adjacent_find(keys) == keys.end());
  }
  const test::Ran text = test::ohmdrag({"check", test::shipped_case("buys-nothing").string()});
  CHECK_THAT(text.err, Catch::Matchers::Contains("nothing computed"));
}

// derived: dry friction of a ring at a given line force goes with the square of the diameter,
// P = mu F' pi d * pi d n.
TEST_CASE("--set changes a figure, and the document says what was set", "[derived]") {
  const std::string file = test::shipped_case("buys-nothing").string();
  const auto watts = [&](const std::string& diameter) {
    const test::Ran ran =
        test::ohmdrag({"budget", file, "--json", "--set", "shaft.rotor.diameter=" + diameter});
    REQUIRE(ran.status == 0);
    const json document = json::parse(ran.out);
    CHECK(document.at("case").at("changes").at(0) == "shaft.rotor.diameter=" + diameter);
    const json& ring = find(document.at("variants"), "id", "dense-ring");
    return find(ring.at("budget"), "component", "grounding").at("own_W").at("mid").get<double>();
  };
  CHECK(watts("50 mm") == Approx(4.0 * watts("25 mm")).epsilon(1e-6));
}

TEST_CASE("--set may be repeated", "[derived]") {
  const test::Ran ran = test::ohmdrag({"budget", test::shipped_case("buys-nothing").string(),
                                       "--json", "--set", "shaft.rotor.diameter=30 mm", "--set",
                                       "operating_point.running.shaft_speed=1000 rpm"});
  REQUIRE(ran.status == 0);
  const json row = json::parse(ran.out).at("variants").at(0).at("budget").at(0);
  // pi * 0.030 m * 1000/60 1/s
  CHECK(row.at("surface_speed_mps").get<double>() == Approx(1.5708).epsilon(1e-4));
}

TEST_CASE("--strict alone gives 3 when a requirement is missed", "[derived]") {
  const std::string file = test::shipped_case("parcel-van").string();
  // Milliohms: no contact of the case can.
  const std::string hard = "requirement.discharge-path.max=1 mohm";
  CHECK(test::ohmdrag({"trade", file, "--strict"}).status == 0);
  CHECK(test::ohmdrag({"trade", file, "--set", hard}).status == 0);
  const test::Ran strict = test::ohmdrag({"trade", file, "--strict", "--set", hard});
  CHECK(strict.status == 3);
  CHECK(strict.out == test::ohmdrag({"trade", file, "--set", hard}).out);
}

TEST_CASE("every starter loads and runs as it is", "[derived]") {
  const auto [kind, command] = GENERATE(table<std::string, std::string>(
      {{"vehicle", "trade"}, {"machine", "trade"}, {"single-contact", "budget"}}));
  CAPTURE(kind, command);
  const test::Ran fresh = test::ohmdrag({"new", kind});
  CHECK(fresh.status == 0);
  CHECK(fresh.err.empty());
  const test::Folder folder;
  const std::string file = folder.write("my-case.toml", fresh.out).string();
  for (const std::string& c : {std::string{"check"}, command}) {
    CAPTURE(c);
    const test::Ran ran = test::ohmdrag({c, file, "--json", "--quiet"});
    CHECK(ran.status == 0);
    CHECK(ran.err.empty());
    CHECK(json::accept(ran.out));
  }
}

TEST_CASE("the help of every command ends with an example that works", "[derived]") {
  const std::string top = test::ohmdrag({"--help"}).out;
  for (const std::string command :
       {"trade", "budget", "energy", "ground", "life", "check", "contact", "fit", "size", "compare",
        "ask", "explain", "sweep", "list", "new"}) {
    CAPTURE(command);
    CHECK_THAT(top, Catch::Matchers::Contains("\n  " + command + " "));
    const test::Ran help = test::ohmdrag({command, "--help"});
    CHECK(help.status == 0);
    CHECK(help.err.empty());
    const std::size_t at = help.out.find("Example: ohmdrag " + command + " ");
    REQUIRE(at != std::string::npos);
    const std::string line = help.out.substr(at + 9, help.out.find('\n', at) - at - 9);
    CAPTURE(line);
    const test::Folder folder;
    fs::create_symlink(test::in_source("cases"), folder.path() / "cases");
    const std::string shell = "ohmdrag() { \"" + test::built_program() + "\" \"$@\"; }\n" + line;
    test::Surroundings around;
    around.folder = folder.path();
    const test::Ran ran = test::ran({"bash", "-c", shell}, around);
    CAPTURE(ran.err);
    CHECK(ran.status == 0);
  }
}

TEST_CASE("the version is printed", "[derived]") {
  const test::Ran ran = test::ohmdrag({"--version"});
  CHECK(ran.status == 0);
  CHECK(test::lines_of(ran.out).size() == 1);
}

// An engineer's look at the two answers that matter most.

TEST_CASE("where nothing strikes the study says: do not ground here", "[derived]") {
  const fs::path file = test::shipped_case("buys-nothing");
  const json trade = json::parse(test::ohmdrag_once(as_document("trade", file)).out).at("trade");
  CHECK(trade.at("chosen") == "plain");
  CHECK_THAT(trade.at("reason").get<std::string>(),
             Catch::Matchers::Contains("do not ground here", Catch::CaseSensitive::No));
  CHECK_THAT(test::ohmdrag({"trade", file.string()}).out,
             Catch::Matchers::Contains("do not ground here", Catch::CaseSensitive::No));
  const json& ring = find(trade.at("exchange"), "variant", "dense-ring");
  CHECK(ring.at("point_net_W").at("low").get<double>() > 0.0);                    // it costs…
  CHECK(ring.at("striking_time_share_removed").at("high").get<double>() == 0.0);  // …for nothing
}

TEST_CASE("a case without an inverter is not told what strikes", "[derived]") {
  const test::Folder folder;
  const auto file = folder.write("case.toml", test::ohmdrag({"new", "single-contact"}).out);
  const test::Ran ran = test::ohmdrag({"trade", file.string()});
  CHECK(ran.status == 0);
  CHECK_THAT(ran.out, !Catch::Matchers::Contains("nothing strikes"));
  CHECK_THAT(ran.out, !Catch::Matchers::Contains("do not ground here", Catch::CaseSensitive::No));
}

TEST_CASE("a ring of kilo-ohms in the van does not reduce the share of time that strikes",
          "[derived]") {
  const json trade =
      json::parse(test::ohmdrag_once(as_document("trade", test::shipped_case("parcel-van"))).out)
          .at("trade");
  const json& ring = find(trade.at("exchange"), "variant", "sparse-ring");
  CHECK(ring.at("impedance_end_of_service_ohm").at("low").get<double>() > 1000.0);
  CHECK(ring.at("striking_time_share_removed").at("mid").get<double>() == Approx(0.0).margin(1e-3));
  CHECK(ring.at("striking_time_share_removed").at("high").get<double>() < 0.01);
  CHECK(ring.at("point_net_W").at("low").get<double>() > 0.0);
  CHECK(trade.at("chosen") != "sparse-ring");
}

TEST_CASE("no case claims hours without a law, or more than its evidence", "[derived]") {
  for (const fs::path& file : test::shipped_cases()) {
    CAPTURE(file);
    const json document = json::parse(test::ohmdrag_once(as_document("trade", file)).out);
    // Beyond watts and heat only if the impedance of the chosen element is known from measurement.
    bool measured = false;
    for (const json& number : document.at("assumptions"))
      measured = measured ||
                 (number.at("basis") == "measured" &&
                  number.at("name").get<std::string>().find("resistance") != std::string::npos);
    CHECK((measured || document.at("trade").at("claim").at("rung").get<int>() == 1));
    CHECK_FALSE(document.at("cautions").empty());
    CHECK(document.at("case").at("invented") == true);
    const bool law = test::file_text(file).find("\n[damage]\n") != std::string::npos;
    for (const json& variant : document.at("variants"))
      for (const json& row : variant.at("life")) CHECK((law || row.at("electrical").is_null()));
  }
}

TEST_CASE("one and two threads weigh a case to the same bytes", "[derived]") {
  test::Surroundings one;
  one.on_one_processor = true;
  for (const char* name : {"parcel-van", "plug-in-hybrid"}) {
    CAPTURE(name);
    const test::Arguments arguments{"trade",  test::shipped_case(name).string(),
                                    "--json", "--quiet",
                                    "--set",  "study.samples=30"};
    const test::Ran two = test::ohmdrag(arguments);
    REQUIRE(two.status == 0);
    CHECK(test::ohmdrag(arguments, one).out == two.out);
  }
}

// What reaches a terminal, a pipe, and a script.

#include <fcntl.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>

#include "program.hpp"

using namespace ohmdrag;

namespace {

bool has_escapes(const std::string& text) { return text.find('\x1b') != std::string::npos; }

/// Bare containers have no pseudo-terminals; the rows that need one say so and pass on.
bool no_terminals() {
  const int master = ::posix_openpt(O_RDWR | O_NOCTTY);
  if (master >= 0) ::close(master);
  if (master < 0) WARN("skipped: this system has no pseudo-terminals");
  return master < 0;
}

test::Arguments trade() { return {"trade", test::shipped_case("buys-nothing").string()}; }

}  // namespace

TEST_CASE("a pipe gets no escape bytes", "[derived]") {
  for (const test::Arguments& arguments :
       {trade(), test::Arguments{"list", "contacts"}, test::Arguments{"list", "units"},
        test::Arguments{"check", test::shipped_case("buys-nothing").string()},
        test::Arguments{"--help"}})
    CHECK_FALSE(has_escapes(test::ohmdrag(arguments).out));
}

// common practice, no source: NO_COLOR set and not empty asks every program for plain text.
TEST_CASE("a terminal gets emphasis unless NO_COLOR asks for plain text", "[derived]") {
  if (no_terminals()) return;
  test::Surroundings around;
  around.on_terminal = true;
  around.environment["NO_COLOR"] = "";
  CHECK(has_escapes(test::ohmdrag(trade(), around).out));
  around.environment["NO_COLOR"] = "1";
  CHECK_FALSE(has_escapes(test::ohmdrag(trade(), around).out));
}

TEST_CASE("a document has no escape bytes on a terminal either", "[derived]") {
  if (no_terminals()) return;
  test::Surroundings around;
  around.on_terminal = true;
  test::Arguments json = trade();
  json.push_back("--json");
  CHECK_FALSE(has_escapes(test::ohmdrag(json, around).out));
}

TEST_CASE("many trips say on a terminal alone how far they are", "[derived]") {
  if (no_terminals()) return;
  const test::Folder folder;
  std::filesystem::create_directory(folder.path() / "trips");
  const std::string day = test::file_text(test::shipped_case("measured-trips").parent_path() /
                                          "trips" / "wednesday.csv");
  constexpr int trips = 150;
  for (int i = 0; i < trips; ++i) folder.write("trips/" + std::to_string(i) + ".csv", day);
  const std::filesystem::path file =
      folder.write("case.toml", test::file_text(test::shipped_case("measured-trips")));
  test::Arguments energy{"energy", file.string(), "--json", "--set", "study.samples=4"};
  test::Surroundings around;
  around.errors_on_terminal = true;
  const test::Ran shown = test::ohmdrag(energy, around);
  CHECK(shown.status == 0);
  CHECK_THAT(shown.err, Catch::Matchers::Contains(" of 450, ") &&
                            Catch::Matchers::Contains(" left") && Catch::Matchers::EndsWith(" \r"));
  CHECK(test::ohmdrag(energy).err.empty());
  energy.push_back("--quiet");
  CHECK(test::ohmdrag(energy, around).err.empty());
}

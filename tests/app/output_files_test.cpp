// Files that the program writes: whole or not at all.

#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>

#include "program.hpp"

using namespace ohmdrag;
namespace fs = std::filesystem;

namespace {

test::Arguments budget_into(const fs::path& folder) {
  return {"budget", test::shipped_case("buys-nothing").string(), "--out", folder.string()};
}

std::set<std::string> names_in(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) names.insert(entry.path().filename());
  return names;
}

ino_t inode_of(const fs::path& file) {
  struct stat status {};
  REQUIRE(::stat(file.c_str(), &status) == 0);
  return status.st_ino;
}

void check_failed(const test::Ran& ran, const fs::path& file) {
  CAPTURE(ran.err);
  CHECK(ran.status == 1);
  CHECK(ran.out.empty());
  CHECK(test::lines_of(ran.err).size() == 1);
  CHECK_THAT(ran.err, Catch::Matchers::Contains(file.string()));
}

}  // namespace

TEST_CASE("--out writes the document and the text that the screen shows", "[derived]") {
  const test::Folder folder;
  const fs::path out = folder.path() / "new" / "deeper";
  const test::Ran ran = test::ohmdrag(budget_into(out));
  CHECK(ran.status == 0);
  CHECK(names_in(out) == std::set<std::string>{"budget.txt", "result.json"});
  const std::string text = test::file_text(out / "budget.txt");
  CHECK(ran.out.starts_with(text));
  test::Arguments json = budget_into(out);
  json.push_back("--json");
  const test::Ran document = test::ohmdrag(json);
  CHECK(document.out == test::file_text(out / "result.json"));
  CHECK_THAT(document.err, Catch::Matchers::Contains("result.json"));
  json.push_back("--quiet");
  CHECK(test::ohmdrag(json).err.empty());
}

TEST_CASE("an existing file is replaced by a new one, never written into", "[derived]") {
  const test::Folder folder;
  REQUIRE(test::ohmdrag(budget_into(folder.path())).status == 0);
  const fs::path file = folder.path() / "result.json";
  const fs::path old = folder.path() / "old";
  fs::create_hard_link(file, old);  // whoever still reads the old file
  const std::string before = test::file_text(old);
  test::Arguments other = budget_into(folder.path());
  other.insert(other.end(), {"--set", "shaft.rotor.diameter=30 mm"});
  REQUIRE(test::ohmdrag(other).status == 0);
  CHECK(test::file_text(old) == before);
  CHECK(test::file_text(file) != before);
  CHECK(inode_of(file) != inode_of(old));
  CHECK(names_in(folder.path()) == std::set<std::string>{"budget.txt", "old", "result.json"});
}

TEST_CASE("a disk that fills up leaves the old files and nothing else", "[derived]") {
  const test::Folder folder;
  REQUIRE(test::ohmdrag(budget_into(folder.path())).status == 0);
  const std::string before = test::file_text(folder.path() / "result.json");
  const std::string text_before = test::file_text(folder.path() / "budget.txt");
  test::Surroundings full;
  full.largest_file_bytes = 10'000;
  test::Arguments other = budget_into(folder.path());
  other.insert(other.end(), {"--set", "shaft.rotor.diameter=30 mm"});
  check_failed(test::ohmdrag(other, full), folder.path() / "result.json");
  CHECK(test::file_text(folder.path() / "result.json") == before);
  CHECK(test::file_text(folder.path() / "budget.txt") == text_before);
  CHECK(names_in(folder.path()) == std::set<std::string>{"budget.txt", "result.json"});
}

TEST_CASE("a folder that cannot be made is told with its path", "[derived]") {
  const test::Folder folder;
  const fs::path file = folder.write("file", "old\n");
  check_failed(test::ohmdrag(budget_into(file / "out")), file / "out" / "result.json");
  CHECK(test::file_text(file) == "old\n");
}

TEST_CASE("a folder in the place of the file is left alone", "[derived]") {
  const test::Folder folder;
  fs::create_directories(folder.path() / "result.json" / "kept");
  check_failed(test::ohmdrag(budget_into(folder.path())), folder.path() / "result.json");
  CHECK(names_in(folder.path()) == std::set<std::string>{"result.json"});
  CHECK(fs::exists(folder.path() / "result.json" / "kept"));
}

TEST_CASE("a folder without write permission is told with its path", "[derived]") {
  const test::Folder folder;
  const fs::path out = folder.path() / "out";
  fs::create_directory(out);
  fs::permissions(folder.path(), fs::perms::owner_all | fs::perms::others_exec);
  fs::permissions(out, fs::perms::owner_read | fs::perms::owner_exec | fs::perms::others_read |
                           fs::perms::others_exec);
  test::Surroundings around;
  constexpr int nobody = 65534;
  if (::geteuid() == 0) around.user = nobody;  // permissions do not bind the superuser
  const test::Ran ran = test::ohmdrag(budget_into(out), around);
  if (ran.status == 126 || ran.status == 127) {
    WARN("skipped: the program cannot be started as another user from where it is built");
    return;
  }
  check_failed(ran, out / "result.json");
  CHECK(fs::is_empty(out));
}

TEST_CASE("a full standard output is a failure, not a success", "[derived]") {
  const test::Arguments arguments =
      GENERATE(test::Arguments{"trade", test::shipped_case("buys-nothing").string()},
               test::Arguments{"list", "contacts"}, test::Arguments{"new", "vehicle"},
               test::Arguments{"check", test::shipped_case("buys-nothing").string(), "--quiet"});
  CAPTURE(arguments);
  test::Surroundings around;
  around.out_to = "/dev/full";
  const test::Ran ran = test::ohmdrag(arguments, around);
  CHECK(ran.status == 1);
  CHECK_THAT(ran.err, Catch::Matchers::Contains("standard output"));
}

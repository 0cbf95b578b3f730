#include "ohmdrag/input/embedded_data.hpp"
#include "support/in_source.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

using namespace ohmdrag;

namespace {

std::string file_content(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  REQUIRE(in);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

}  // namespace

TEST_CASE("every data file is in the binary, byte for byte", "[input][derived]") {
  const std::filesystem::path data = test::in_source("data");
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(data)) {
    const auto ending = entry.path().extension();
    if (ending != ".toml" && ending != ".csv" && ending != ".json" && ending != ".css") continue;
    const std::string path = std::filesystem::relative(entry.path(), data).generic_string();
    if (path.starts_with("report/package")) continue;  // npm's, not the program's
    ++files;
    CAPTURE(path);
    const auto content = input::embedded(path);
    REQUIRE(content.has_value());
    CHECK((*content == file_content(entry.path())));
  }
  CHECK(files >= 12);
  const std::size_t made_by_the_build = 2;  // the script of the report's page and its hash
  CHECK(input::embedded_files().size() == files + made_by_the_build);
  CHECK(std::ranges::is_sorted(input::embedded_files(), {}, &input::EmbeddedFile::path));
}

TEST_CASE("a path that data/ does not have gives nothing", "[input][derived]") {
  CHECK_FALSE(input::embedded("cycles/none.csv"));
  CHECK_FALSE(input::embedded("cycles"));
  CHECK_FALSE(input::embedded(""));
}

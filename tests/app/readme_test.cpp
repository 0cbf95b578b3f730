// What README.md and cases/rig/README.md show works as it stands there.
//
// Lines of ```sh blocks that begin with the program are run, in their order, in one folder that
// has cases/ in it; ```toml blocks whose first line is "# case: NAME.toml" are saved there first.

#include <catch2/catch.hpp>

#include "program.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
namespace fs = std::filesystem;

namespace {

struct Block {
  std::string language;
  std::vector<std::string> lines;
};

std::vector<Block> blocks_of(const std::string& markdown) {
  std::vector<Block> blocks;
  bool inside = false;
  for (const std::string& line : test::lines_of(markdown)) {
    if (line.starts_with("```")) {
      inside = !inside;
      if (inside) blocks.push_back({line.substr(3), {}});
    } else if (inside) {
      blocks.back().lines.push_back(line);
    }
  }
  REQUIRE_FALSE(inside);
  return blocks;
}

/// A command may run over several lines, each but the last with a backslash at its end.
std::vector<std::string> commands_of(const Block& block) {
  std::vector<std::string> commands;
  bool goes_on = false;
  for (std::string line : block.lines) {
    const bool continued = line.ends_with('\\');
    if (continued) line.pop_back();
    if (goes_on)
      commands.back() += line;
    else
      commands.push_back(line);
    goes_on = continued;
  }
  return commands;
}

/// The command with the built program in it, or nothing if it runs something else.
std::string with_program(const std::string& command) {
  for (const std::string name : {"./build/ohmdrag ", "build/ohmdrag ", "ohmdrag "})
    if (command.starts_with(name))
      return "\"" + test::built_program() + "\" " + command.substr(name.size());
  return {};
}

}  // namespace

TEST_CASE("every command and every case of a README works", "[derived]") {
  const std::string page = GENERATE(as<std::string>{}, "README.md", "cases/rig/README.md");
  CAPTURE(page);
  const auto blocks = blocks_of(test::file_text(test::in_source(page)));
  const test::Folder folder;
  fs::create_symlink(test::in_source("cases"), folder.path() / "cases");
  const std::string mark = "# case: ";
  for (const Block& block : blocks) {
    if (block.language != "toml" || block.lines.empty() || !block.lines[0].starts_with(mark))
      continue;
    std::string text;
    for (const std::string& line : block.lines) text += line + '\n';
    const fs::path file = folder.write(block.lines[0].substr(mark.size()), text);
    const test::Ran ran = test::ohmdrag({"check", file.string(), "--quiet"});
    CAPTURE(ran.err);
    CHECK(ran.status == 0);
  }
  int run = 0;
  for (const Block& block : blocks) {
    if (block.language != "sh") continue;
    for (const std::string& command : commands_of(block)) {
      const std::string line = with_program(command);
      if (line.empty()) continue;
      CAPTURE(command);
      test::Surroundings around;
      around.folder = folder.path();
      const test::Ran ran = test::ran({"bash", "-c", line}, around);
      CAPTURE(ran.err);
      // 3 is what --strict is asked for: done, and a requirement is not met.
      const bool strict = command.find("--strict") != std::string::npos;
      CHECK((ran.status == 0 || (strict && ran.status == 3)));
      ++run;
    }
  }
  CHECK(run >= 3);
}

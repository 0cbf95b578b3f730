#include <random>
#include <string>

#include "input/support.hpp"
#include "ohmdrag/input/catalogue.hpp"
#include "ohmdrag/input/embedded_data.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;

namespace {

/// Whole seconds, way and sum of the speeds of a trace.
bool same_totals(const duty::Cycle& a, const duty::Cycle& b) {
  const auto of_a = duty::totals(a), of_b = duty::totals(b);
  return of_a.duration == of_b.duration && of_a.distance == of_b.distance &&
         of_a.checksum == of_b.checksum && of_a.max == of_b.max;
}

}  // namespace

// One byte of a table becomes another: the table is refused with the name of its file, or it still
// says the same ("1.0" and "1e0").
TEST_CASE("a changed byte in a cycle table is caught when it is loaded", "[derived]") {
  const input::Catalogue sound;
  const std::string list(*input::embedded("cycles/cycles.toml"));
  std::mt19937 random(20);
  for (const std::string& id : sound.ids("cycles")) {
    // Each entry of the list names its own table.
    const std::size_t entry = list.find("id = \"" + id + "\"");
    REQUIRE(entry != std::string::npos);
    const std::size_t name = list.find("file = \"", entry) + 8;
    const std::string file = list.substr(name, list.find('"', name) - name);
    const std::string good(*input::embedded("cycles/" + file));
    const test::Folder folder;
    folder.write("cycles.toml", list);
    int refused = 0;
    const int tries = test::effort(25);
    for (int i = 0; i < tries; ++i) {
      std::string bad = good;
      char& byte = bad[random() % bad.size()];
      const char before = byte;
      // Half of the changes are digits, which look the most like data.
      byte =
          i % 2 == 0 ? static_cast<char>('0' + random() % 10) : static_cast<char>(random() % 256);
      if (byte == before) byte = static_cast<char>(before ^ 1);
      CAPTURE(id, i, int(before), int(byte), &byte - bad.data());
      folder.write(file, bad);
      const input::Catalogue damaged{folder.path()};
      try {
        const duty::Cycle cycle = damaged.cycle(id);
        CHECK(same_totals(cycle, sound.cycle(id)));
      } catch (const input::InputError& error) {
        ++refused;
        REQUIRE_FALSE(error.problems.empty());
      }
    }
    CHECK(refused > tries / 2);
  }
}

// Limits of the shipped bands against the tables they were taken from.
#include <fstream>
#include <map>
#include <string>
#include <variant>

#include "ohmdrag/quantity/read.hpp"
#include "support/in_source.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using ohmdrag::test::near;

namespace {

struct Limits {
  double from_Hz = 0.0;
  double to_Hz = 0.0;
};

std::string quoted(const std::string& line) {
  const auto first = line.find('"');
  return line.substr(first + 1, line.rfind('"') - first - 1);
}

std::map<std::string, Limits> shipped_bands() {
  std::ifstream file(test::in_source("data/bands.toml"));
  REQUIRE(file);
  std::map<std::string, Limits> bands;
  std::string line, id;
  const auto hertz = [](const std::string& text) {
    return std::get<Distribution>(read_quantity(text, Dimension::frequency)).mid;
  };
  while (std::getline(file, line)) {
    if (line.rfind("id =", 0) == 0) id = quoted(line);
    if (line.rfind("from =", 0) == 0) bands[id].from_Hz = hertz(quoted(line));
    if (line.rfind("to =", 0) == 0) bands[id].to_Hz = hertz(quoted(line));
  }
  return bands;
}

}  // namespace

TEST_CASE("the shipped bands have the limits of their sources", "[printed]") {
  struct Row {
    const char* id;
    double from_Hz;
    double to_Hz;
  };
  const auto row = GENERATE(
      // ITU frequency allocation, Regions 1 and 3, broadcasting.
      Row{"medium-wave", 526.5e3, 1606.5e3},
      // CISPR 25, protected bands LW and MW, as quoted in a comparison of a laboratory's table.
      Row{"long-wave", 0.15e6, 0.30e6}, Row{"medium-wave-protection", 0.53e6, 1.8e6});
  CAPTURE(row.id);
  const auto bands = shipped_bands();
  REQUIRE(bands.contains(row.id));
  CHECK_THAT(bands.at(row.id).from_Hz, near(row.from_Hz, 1e-12));
  CHECK_THAT(bands.at(row.id).to_Hz, near(row.to_Hz, 1e-12));
}

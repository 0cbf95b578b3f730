#include <catch2/catch.hpp>

#include "ohmdrag/input/load_case.hpp"
#include "support.hpp"

using namespace ohmdrag;

TEST_CASE("a case carries what the trade takes its numbers to be", "[input]") {
  const study::Case c = input::load_case(test::here / "example_case.toml", test::options());
  // data/trade_ranges.toml, "coupling.winding_rotor": 20 … 300 pF.
  REQUIRE(c.trade_ranges.contains("coupling.winding_rotor"));
  const study::TradeRange& coupling = c.trade_ranges.at("coupling.winding_rotor");
  CHECK(coupling.range.shape == Shape::uniform);
  CHECK(coupling.range.mid - coupling.range.half_width == Approx(20e-12));
  CHECK(coupling.range.mid + coupling.range.half_width == Approx(300e-12));
  CHECK_FALSE(coupling.source.empty());
  // Ranges stand under keys without ids: a shaft's run-out is that of any shaft.
  for (const auto& [key, range] : c.trade_ranges) {
    CAPTURE(key);
    CHECK(range.range.half_width > 0.0);
    CHECK(key.find("requirement") == std::string::npos);
  }
}

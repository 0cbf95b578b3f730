#include "ohmdrag/study/side_by_side.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>
#include <string>
#include <vector>

using namespace ohmdrag;

TEST_CASE("work side by side is all done, and the first failure in its order gets through",
          "[derived]") {
  std::vector<int> done(200, 0);
  study::side_by_side(done.size(), [&](std::size_t i) { ++done[i]; });
  CHECK(done == std::vector<int>(200, 1));

  const auto failing = [&](std::size_t i) {
    ++done[i];
    if (i % 50 == 49) throw std::domain_error(std::to_string(i));
  };
  CHECK_THROWS_WITH(study::side_by_side(done.size(), failing), "49");
  CHECK(done == std::vector<int>(200, 2));

  CHECK_NOTHROW(study::side_by_side(0, failing));
}

#include "ohmdrag/bearing/tapered_load.hpp"

#include <catch2/catch.hpp>
#include <limits>
#include <stdexcept>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using bearing::tapered_roller_equivalent_load;
using test::near;

TEST_CASE("a tapered roller bearing feels its axial load beyond e", "[derived]") {
  CHECK(tapered_roller_equivalent_load(2000.0_N, Force{}, 1.6) == 2000.0_N);
  CHECK(tapered_roller_equivalent_load(2000.0_N, 700.0_N, 1.6) == 2000.0_N);  // e = 0.375
  CHECK_THAT(tapered_roller_equivalent_load(2000.0_N, 1000.0_N, 1.6), near(2400.0_N, 1e-12));
  CHECK_THAT(tapered_roller_equivalent_load(Force{}, 1000.0_N, 1.6), near(1600.0_N, 1e-12));
  CHECK(tapered_roller_equivalent_load(Force{}, Force{}, 1.6) == Force{});
}

TEST_CASE("both branches of the equivalent load meet and signs do not count", "[derived]") {
  for (const double y : {0.7, 1.6, 2.3}) {
    const Force limit = 2000.0_N * (0.6 / y);
    CHECK_THAT(tapered_roller_equivalent_load(2000.0_N, (1.0 + 1e-9) * limit, y),
               near(2000.0_N, 1e-8));
    CHECK(tapered_roller_equivalent_load(-2000.0_N, -900.0_N, y) ==
          tapered_roller_equivalent_load(2000.0_N, 900.0_N, y));
  }
}

TEST_CASE("an axial factor that is not positive is refused", "[derived]") {
  for (const double y : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN()})
    CHECK_THROWS_AS(tapered_roller_equivalent_load(2000.0_N, 100.0_N, y), std::invalid_argument);
}

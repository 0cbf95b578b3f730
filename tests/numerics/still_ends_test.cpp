#include "ohmdrag/numerics/still_ends.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

using ohmdrag::numerics::still_ends;

TEST_CASE("ends that do not move are still, ends that do are not", "[numerics]") {
  std::vector<double> values;
  for (int block = 0; block < 4; ++block)
    for (int i = 0; i < 2000; ++i) values.push_back(i / 1999.0);
  const auto same = still_ends(values, 2000, 0.95, 2);
  CHECK(same.low_error == 0.0);
  CHECK(same.high_error == 0.0);
  // A standard uncertainty of 0.289 counts to 0.29: half of the last digit.
  CHECK(same.tolerance == Approx(0.005));
  CHECK(same.still());
  for (std::size_t i = 0; i < 2000; ++i) values[i] += 0.1;
  const auto moved = still_ends(values, 2000, 0.95, 2);
  // Ends 0.1 off in one of four blocks: deviation 0.05, of the mean 0.025, twice that.
  CHECK(moved.low_error == Approx(0.05).epsilon(1e-6));
  CHECK_FALSE(moved.still());
}

TEST_CASE("an infinite end counts as still where all blocks have it", "[numerics]") {
  const double infinity = std::numeric_limits<double>::infinity();
  std::vector<double> values;
  for (int block = 0; block < 4; ++block)
    for (int i = 0; i < 2000; ++i) values.push_back(i < 1900 ? i / 1999.0 : infinity);
  CHECK(still_ends(values, 2000, 0.95, 2).high_error == 0.0);
  for (std::size_t i = 0; i < 2000; ++i) values[i] = double(i) / 1999.0;
  CHECK(std::isinf(still_ends(values, 2000, 0.95, 2).high_error));
  CHECK_FALSE(still_ends(values, 2000, 0.95, 2).still());
}

TEST_CASE("a figure that is mostly infinite goes by its finite end", "[numerics]") {
  std::vector<double> values;
  for (int block = 0; block < 4; ++block)
    for (int i = 0; i < 2000; ++i)
      values.push_back(i < 1000 ? 800.0 + i : std::numeric_limits<double>::infinity());
  const auto ends = still_ends(values, 2000, 0.95, 1);
  CHECK(ends.tolerance == Approx(50.0));  // 850 to one digit: 900
  CHECK(ends.still());
}

TEST_CASE("fewer than two whole blocks are refused", "[numerics]") {
  const std::vector<double> values(3000);
  CHECK_THROWS_AS(still_ends(values, 2000, 0.95, 2), std::invalid_argument);
  CHECK_THROWS_AS(still_ends(values, 0, 0.95, 2), std::invalid_argument);
}

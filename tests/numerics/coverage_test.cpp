#include "ohmdrag/numerics/coverage.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

using namespace ohmdrag::numerics;

TEST_CASE("the symmetric interval leaves out as many below as above") {
  std::vector<double> values;
  for (int i = 1; i <= 100; ++i) values.push_back(i);
  const auto interval = coverage_interval(values, 0.9, IntervalKind::symmetric);
  CHECK(interval.low == 5.0);
  CHECK(interval.high == 95.0);
  CHECK(interval.width() == 90.0);
  // An odd number left out: one more below.
  const auto odd = coverage_interval(values, 0.89, IntervalKind::symmetric);
  CHECK(odd.low == 6.0);
  CHECK(odd.high == 95.0);
}

TEST_CASE("the shortest interval sits where the values are dense") {
  std::vector<double> values;  // exponential: dense at the lower end
  constexpr int count = 10'000;
  for (int i = 0; i < count; ++i) values.push_back(-std::log(1.0 - (i + 0.5) / count));
  const auto shortest = coverage_interval(values, 0.95, IntervalKind::shortest);
  CHECK(shortest.low == values.front());
  CHECK(shortest.high == Approx(-std::log(0.05)).epsilon(1e-3));
  const auto symmetric = coverage_interval(values, 0.95, IntervalKind::symmetric);
  CHECK(symmetric.low == Approx(-std::log(0.975)).epsilon(5e-3));
  CHECK(symmetric.high == Approx(-std::log(0.025)).epsilon(1e-3));
}

TEST_CASE("infinite values keep their place in the order") {
  const double open = std::numeric_limits<double>::infinity();
  const std::vector<double> values{1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, open, open};
  CHECK(coverage_interval(values, 0.8, IntervalKind::symmetric).high == open);
  CHECK(coverage_interval(values, 0.7, IntervalKind::shortest).high == 8.0);
}

TEST_CASE("what gives no interval is refused") {
  const std::vector<double> rising{1.0, 2.0, 3.0}, falling{2.0, 1.0, 0.0};
  const std::vector<double> none{1.0, std::numeric_limits<double>::quiet_NaN(), 3.0};
  CHECK_THROWS_AS(coverage_interval(rising, 1.0, IntervalKind::symmetric), std::invalid_argument);
  CHECK_THROWS_AS(coverage_interval(rising, 0.95, IntervalKind::symmetric), std::invalid_argument);
  CHECK_THROWS_AS(coverage_interval(falling, 0.5, IntervalKind::symmetric), std::invalid_argument);
  CHECK_THROWS_AS(coverage_interval(none, 0.5, IntervalKind::symmetric), std::invalid_argument);
  CHECK_THROWS_AS(coverage_interval({}, 0.5, IntervalKind::shortest), std::invalid_argument);
}

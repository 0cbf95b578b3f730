#include "ohmdrag/numerics/sample_size.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;
using numerics::normal_share_at_least;
using numerics::normal_tolerance_factor;
using numerics::share_at_least;
using numerics::specimens_needed;

TEST_CASE("without failures the number of specimens is that of the success run") {
  for (const double share : {0.5, 0.8, 0.9, 0.95, 0.99, 0.999})
    for (const double confidence : {0.5, 0.6, 0.9, 0.95, 0.99})
      CHECK(specimens_needed(share, confidence) ==
            std::ceil(std::log(1.0 - confidence) / std::log(share) - 1e-12));
}

TEST_CASE("so many specimens prove it, one fewer does not") {
  for (const int failures : {0, 1, 2, 5})
    for (const double share : {0.7, 0.9, 0.99}) {
      const int n = specimens_needed(share, 0.9, failures);
      CAPTURE(failures, share, n);
      CHECK(share_at_least(n - failures, n, 0.9) >= share);
      CHECK(share_at_least(n - 1 - failures, n - 1, 0.9) < share);
    }
}

TEST_CASE("the share by counting has its limits") {
  CHECK(share_at_least(0, 7, 0.9) == 0.0);
  CHECK(share_at_least(7, 7, 0.9) == Approx(std::pow(0.1, 1.0 / 7.0)).epsilon(1e-12));
  CHECK(share_at_least(6, 7, 0.9) < share_at_least(7, 7, 0.9));
}

TEST_CASE("the tolerance factor of many specimens is the normal quantile") {
  CHECK(normal_tolerance_factor(200.0, 199.0, 0.95, 0.5) == Approx(1.645).epsilon(0.005));
  CHECK(normal_tolerance_factor(10.0, 9.0, 0.95, 0.9) >
        normal_tolerance_factor(20.0, 19.0, 0.95, 0.9));
  CHECK(normal_tolerance_factor(5.0, 9.0, 0.95, 0.9) >
        normal_tolerance_factor(10.0, 9.0, 0.95, 0.9));
}

TEST_CASE("the share is the inverse of the tolerance factor") {
  for (const double n : {2.0, 3.5, 10.0, 60.0})
    for (const double share : {0.2, 0.5, 0.9, 0.99}) {
      const double degrees = std::max(1.0, std::floor(n) - 1.0);
      const double factor = normal_tolerance_factor(n, degrees, share, 0.9);
      CAPTURE(n, share, factor);
      CHECK(normal_share_at_least(factor, n, degrees, 0.9) == Approx(share).epsilon(1e-6));
    }
  CHECK(normal_share_at_least(0.0, 10.0, 9.0, 0.9) < 0.5);
  CHECK(normal_share_at_least(1e4, 10.0, 9.0, 0.9) == Approx(1.0));
  CHECK(normal_share_at_least(1e9, 3.0, 2.0, 0.9) == Approx(1.0));
  CHECK(normal_share_at_least(-1e4, 10.0, 9.0, 0.9) == 0.0);
}

TEST_CASE("limits of tolerance lie above their share as often as they promise") {
  std::mt19937_64 random(3);
  std::normal_distribution<double> value;
  constexpr int n = 6;
  constexpr double share = 0.9, confidence = 0.9;
  const double k = normal_tolerance_factor(n, n - 1, share, confidence);
  const int runs = test::effort(2000);
  int above = 0;
  for (int run = 0; run < runs; ++run) {
    double sum = 0.0, squares = 0.0;
    for (int i = 0; i < n; ++i) {
      const double x = value(random);
      sum += x;
      squares += x * x;
    }
    const double mean = sum / n, s = std::sqrt((squares - sum * mean) / (n - 1));
    above += mean + k * s >= normal_quantile(share) ? 1 : 0;
  }
  CHECK(above / static_cast<double>(runs) == Approx(confidence).margin(0.025));
}

TEST_CASE("what is no share, confidence or number is refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(specimens_needed(1.0, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(specimens_needed(0.9, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(specimens_needed(nan, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(specimens_needed(0.9, 0.9, -1), std::invalid_argument);
  CHECK_THROWS_AS(specimens_needed(0.9999999, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(share_at_least(3, 2, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(share_at_least(-1, 2, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(share_at_least(0, 0, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(normal_tolerance_factor(0.0, 1.0, 0.9, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(normal_tolerance_factor(2.0, 0.0, 0.9, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(normal_share_at_least(nan, 2.0, 1.0, 0.9), std::invalid_argument);
}

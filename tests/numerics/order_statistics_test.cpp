#include "ohmdrag/numerics/order_statistics.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>
#include <vector>

#include "ohmdrag/numerics/sample_size.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;
using numerics::lower_tolerance_limit;
using numerics::upper_tolerance_limit;

TEST_CASE("a limit needs as many values as the success run, then more let it come closer") {
  for (const double share : {0.9, 0.95, 0.99}) {
    std::vector<double> values;
    for (int i = 1; i < numerics::specimens_needed(share, 0.9); ++i) values.push_back(i);
    CAPTURE(share, values.size());
    CHECK_FALSE(upper_tolerance_limit(values, share, 0.9));
    CHECK_FALSE(lower_tolerance_limit(values, share, 0.9));
    values.push_back(0.5);
    CHECK(upper_tolerance_limit(values, share, 0.9) == static_cast<double>(values.size() - 1));
    CHECK(lower_tolerance_limit(values, share, 0.9) == 0.5);
  }
  std::vector<double> many;
  for (int i = 1; i <= 1000; ++i) many.push_back(i);
  const double upper = *upper_tolerance_limit(many, 0.9, 0.9);
  CHECK(upper > 900.0);
  CHECK(upper < 925.0);
  CHECK(*lower_tolerance_limit(many, 0.9, 0.9) == 1001.0 - upper);
}

TEST_CASE("limits hold as often as they promise, whatever the distribution") {
  std::mt19937_64 engine(21);
  std::exponential_distribution<double> part;
  const double quantile = -std::log(0.05);
  const int runs = test::effort(2000);
  int held = 0;
  for (int run = 0; run < runs; ++run) {
    std::vector<double> values(130);
    for (double& value : values) value = part(engine);
    held += *upper_tolerance_limit(values, 0.95, 0.9) >= quantile ? 1 : 0;
  }
  const double often = held / static_cast<double>(runs);
  CHECK(often > 0.9 - 0.02);
  CHECK(often < 0.97);  // ranks are whole, so a little more than promised
}

TEST_CASE("an open part is a value like any other") {
  std::vector<double> values(40, 1.0);
  values[7] = std::numeric_limits<double>::infinity();
  CHECK(std::isinf(*upper_tolerance_limit(values, 0.93, 0.9)));
  CHECK(*lower_tolerance_limit(values, 0.93, 0.9) == 1.0);
}

TEST_CASE("shares and values that are none are refused") {
  const std::vector<double> none{1.0, std::numeric_limits<double>::quiet_NaN()};
  CHECK_THROWS_AS(upper_tolerance_limit(none, 0.9, 0.9), std::invalid_argument);
  const std::vector<double> values{1.0, 2.0};
  CHECK_THROWS_AS(upper_tolerance_limit(values, 1.0, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(lower_tolerance_limit(values, 0.9, 0.0), std::invalid_argument);
  CHECK_FALSE(upper_tolerance_limit({}, 0.9, 0.9));
}

#include "study/samples.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

using namespace ohmdrag;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double no_figure = std::numeric_limits<double>::quiet_NaN();

/// A figure that all draws have but a few.
std::vector<double> draws(std::size_t count, double usual, std::size_t odd, double value) {
  std::vector<double> values(count, usual);
  for (std::size_t i = 0; i < odd; ++i) values[i] = value;
  return values;
}

}  // namespace

// Type 7 of Hyndman and Fan (1996): of 0 ... 40 the point at a share p is 40 p.
TEST_CASE("the interval of a sample lies on straight lines between its order", "[formula]") {
  std::vector<double> values;
  for (int i = 40; i >= 0; --i) values.push_back(i);
  const Interval interval = study::interval_of(values);
  CHECK(interval.low == Approx(1.0));
  CHECK(interval.mid == Approx(20.0));
  CHECK(interval.high == Approx(39.0));
}

// A draw in which neither variant strikes has the dose factor 1 and gains nothing; where all others
// have no discharge left, it must not pull the low end of a small sample down to 1.
TEST_CASE("one draw among infinities does not set an end of the interval", "[derived]") {
  for (const std::size_t count : {std::size_t{30}, std::size_t{40}}) {
    const Interval factor = study::interval_of(draws(count, infinite, 1, 1.0));
    CHECK(std::isinf(factor.low));
    CHECK(std::isinf(factor.mid));
  }
  CHECK(study::interval_of(draws(40, infinite, 2, 1.0)).low == 1.0);
  CHECK(study::interval_of(draws(400, infinite, 10, 1.0)).low == infinite);
  CHECK(study::interval_of(draws(400, infinite, 11, 1.0)).low == 1.0);
  // Likewise the other way round: a single infinite draw is not the end of all others.
  CHECK(study::interval_of(draws(40, 12.0, 1, infinite)).high == 12.0);
  CHECK(study::interval_of(draws(40, 12.0, 2, infinite)).high == infinite);
  CHECK(study::interval_of(draws(400, 12.0, 10, infinite)).high == 12.0);
  CHECK(study::interval_of(draws(400, 12.0, 11, infinite)).high == infinite);
}

TEST_CASE("losses without end stay what they are", "[derived]") {
  const Interval gain = study::interval_of(draws(40, 5.0, 2, -infinite));
  CHECK(gain.low == -infinite);
  CHECK(gain.mid == 5.0);
}

TEST_CASE("figures that do not exist are left out", "[derived]") {
  const Interval interval = study::interval_of({no_figure, 2.0, no_figure, 2.0});
  CHECK(interval.low == 2.0);
  CHECK(interval.high == 2.0);
  CHECK(std::isnan(study::interval_of({no_figure}).mid));
}

// The ends are sought on their own sides of the middle: the same points as in the sorted sample,
// also where a sample is so small that they fall together or so even that many are alike.
TEST_CASE("the interval is that of the sorted sample, bit for bit", "[derived]") {
  std::mt19937 random(7);
  for (std::size_t count = 1; count <= 130; ++count)
    for (const int distinct : {2, 5, 1'000'000}) {
      std::uniform_int_distribution<int> any(1, distinct);
      std::vector<double> values(count);
      for (double& value : values) value = 1.0 / any(random);
      const Interval found = study::interval_of(values);
      std::ranges::sort(values);
      const auto at = [&](double share) {
        const double place = share * double(count - 1);
        const auto i = static_cast<std::size_t>(place);
        const double next = values[std::min(i + 1, count - 1)];
        return values[i] + (place - double(i)) * (next - values[i]);
      };
      CHECK(found.low == at(0.025));
      CHECK(found.mid == at(0.5));
      CHECK(found.high == at(0.975));
    }
}

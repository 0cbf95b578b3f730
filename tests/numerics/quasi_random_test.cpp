#include "ohmdrag/numerics/quasi_random.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <stdexcept>
#include <utility>
#include <vector>

using namespace ohmdrag;
using numerics::QuasiRandom;

namespace {

/// Share of the strata of one coordinate that hold exactly one of so many points.
bool one_in_each_stratum(const QuasiRandom& points, std::size_t dimension, std::size_t from,
                         std::size_t count) {
  std::vector<int> held(count);
  for (std::size_t i = from; i < from + count; ++i)
    ++held[static_cast<std::size_t>(points.value(dimension, i) * static_cast<double>(count))];
  return held == std::vector<int>(count, 1);
}

/// Squared L2 star discrepancy of points in the plane: T. T. Warnock, in Applications of Number
/// Theory to Numerical Analysis, 1972 (from memory).
double squared_discrepancy(const std::vector<double>& x, const std::vector<double>& y) {
  const auto n = static_cast<double>(x.size());
  double single = 0.0, pairs = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    single += (1.0 - x[i] * x[i]) * (1.0 - y[i] * y[i]) / 4.0;
    for (std::size_t j = 0; j < x.size(); ++j)
      pairs += (1.0 - std::max(x[i], x[j])) * (1.0 - std::max(y[i], y[j]));
  }
  return 1.0 / 9.0 - 2.0 * single / n + pairs / (n * n);
}

/// Root mean square of the error over some scramblings of the integral of a smooth function of
/// three inputs; it is 1.
double error_of_integral(std::size_t count) {
  constexpr int seeds = 24;
  double squares = 0.0;
  for (int seed = 0; seed < seeds; ++seed) {
    const QuasiRandom points(3, static_cast<std::uint64_t>(seed));
    double sum = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
      double product = 1.0;
      for (std::size_t d = 0; d < 3; ++d)
        product *= std::exp(points.value(d, i)) / (std::exp(1.0) - 1.0);
      sum += product;
    }
    const double error = sum / static_cast<double>(count) - 1.0;
    squares += error * error;
  }
  return std::sqrt(squares / seeds);
}

}  // namespace

TEST_CASE("every coordinate of the points stays stratified, scrambled or not") {
  const QuasiRandom plain(300), scrambled(300, 7);
  for (const std::size_t dimension : {0, 1, 2, 17, 299})
    for (const std::size_t count : {2, 64, 1024})
      for (const std::size_t run : {0, 1, 5}) {
        CAPTURE(dimension, count, run);
        CHECK(one_in_each_stratum(plain, dimension, run * count, count));
        CHECK(one_in_each_stratum(scrambled, dimension, run * count, count));
      }
}

TEST_CASE("pairs of coordinates that are made for it are stratified both ways") {
  const QuasiRandom points(2, 3);
  for (const std::size_t columns : {1, 2, 4, 8, 16, 32, 64}) {
    const std::size_t rows = 64 / columns;
    std::vector<int> held(64);
    for (std::size_t i = 0; i < 64; ++i) {
      const auto x = static_cast<std::size_t>(points.value(0, i) * static_cast<double>(columns));
      const auto y = static_cast<std::size_t>(points.value(1, i) * static_cast<double>(rows));
      ++held[x * rows + y];
    }
    CHECK(held == std::vector<int>(64, 1));
  }
}

TEST_CASE("a scrambled coordinate is uniform over its scramblings") {
  constexpr int seeds = 4000;
  double sum = 0.0, squares = 0.0;
  for (int seed = 0; seed < seeds; ++seed) {
    const double u = QuasiRandom(2, static_cast<std::uint64_t>(seed)).value(1, 5);
    sum += u;
    squares += u * u;
  }
  CHECK(sum / seeds == Approx(0.5).margin(4.0 * 0.289 / std::sqrt(seeds)));
  CHECK(squares / seeds == Approx(1.0 / 3.0).margin(4.0 * 0.298 / std::sqrt(seeds)));
}

TEST_CASE("scramblings of two seeds are independent") {
  constexpr int seeds = 4000;
  double product = 0.0;
  for (int seed = 0; seed < seeds; ++seed) {
    const QuasiRandom a(1, static_cast<std::uint64_t>(seed));
    const QuasiRandom b(1, static_cast<std::uint64_t>(seed + 1));
    product += (a.value(0, 5) - 0.5) * (b.value(0, 5) - 0.5);
  }
  CHECK(12.0 * product / seeds == Approx(0.0).margin(4.0 / std::sqrt(seeds)));
}

TEST_CASE("the points are spread more evenly than random ones") {
  std::mt19937_64 engine(11);
  std::uniform_real_distribution<double> uniform;
  const QuasiRandom points(20, 5);
  for (const auto& [first, second] :
       {std::pair<std::size_t, std::size_t>{0, 1}, {3, 12}, {8, 19}}) {
    std::vector<double> x, y, random_x, random_y;
    for (std::size_t i = 0; i < 512; ++i) {
      x.push_back(points.value(first, i));
      y.push_back(points.value(second, i));
      random_x.push_back(uniform(engine));
      random_y.push_back(uniform(engine));
    }
    CAPTURE(first, second);
    CHECK(squared_discrepancy(x, y) < 0.1 * squared_discrepancy(random_x, random_y));
  }
}

TEST_CASE("every pair of the first dimensions is spread more evenly than random points") {
  constexpr std::size_t count = 1024;
  const QuasiRandom points(20, 8);
  std::vector<std::vector<double>> column(20);
  for (std::size_t d = 0; d < 20; ++d)
    for (std::size_t i = 0; i < count; ++i) column[d].push_back(points.value(d, i));
  // Random points: (1/2^2 - 1/3^2)/n on average.
  const double random = (1.0 / 4.0 - 1.0 / 9.0) / count;
  for (std::size_t a = 0; a < 20; ++a)
    for (std::size_t b = 0; b < a; ++b) {
      CAPTURE(a, b);
      CHECK(squared_discrepancy(column[a], column[b]) < random);
    }
}

TEST_CASE("the integral of a smooth function converges faster than with random points") {
  const double coarse = error_of_integral(256), fine = error_of_integral(4096);
  CAPTURE(coarse, fine);
  // Random points: 0.52/sqrt(n), so 0.032 and 4 times less with 16 times as many.
  CHECK(coarse < 0.032 / 20.0);
  CHECK(fine < coarse / 30.0);
}

TEST_CASE("a coordinate hangs on nothing but its own numbers") {
  const QuasiRandom few(3, 42), many(900, 42);
  for (std::size_t i = 0; i < 100; ++i) CHECK(few.value(2, i) == many.value(2, i));
  CHECK(few.value(2, 99) == many.value(2, 99));
  CHECK(few.value(0, QuasiRandom::most_points - 1) > 0.0);
  // The bits are those of every machine.
  CHECK(QuasiRandom(3).value(2, 1000) * 0x1p33 ==
        std::floor(QuasiRandom(3).value(2, 1000) * 0x1p33));
}

TEST_CASE("what the points do not have is refused") {
  CHECK_THROWS_AS(QuasiRandom(0), std::invalid_argument);
  CHECK_THROWS_AS(QuasiRandom(QuasiRandom::most_dimensions + 1), std::invalid_argument);
  CHECK(QuasiRandom(QuasiRandom::most_dimensions).dimensions() == QuasiRandom::most_dimensions);
  CHECK_THROWS_AS(QuasiRandom(2).value(2, 0), std::out_of_range);
  CHECK_THROWS_AS(QuasiRandom(2).value(0, QuasiRandom::most_points), std::out_of_range);
}

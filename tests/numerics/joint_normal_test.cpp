#include "ohmdrag/numerics/joint_normal.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "ohmdrag/numerics/quasi_random.hpp"
#include "ohmdrag/quantity/distribution.hpp"

using namespace ohmdrag;
using numerics::JointNormal;

namespace {

/// Mean products of correlated numbers, row by row.
std::vector<double> products_of(const JointNormal& joint) {
  constexpr std::size_t count = 1 << 14;
  const std::size_t n = joint.inputs();
  const numerics::QuasiRandom points(n, 9);
  std::vector<double> products(n * n), z(n);
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t k = 0; k < n; ++k) z[k] = normal_quantile(points.value(k, i));
    joint.correlate(z);
    for (std::size_t k = 0; k < n * n; ++k) products[k] += z[k / n] * z[k % n] / count;
  }
  return products;
}

}  // namespace

TEST_CASE("correlated numbers have the correlations asked for") {
  const std::vector<double> matrix{1.0, -0.36, 0.86, -0.36, 1.0, -0.65, 0.86, -0.65, 1.0};
  const auto products = products_of(JointNormal(matrix));
  for (std::size_t k = 0; k < matrix.size(); ++k) {
    CAPTURE(k);
    CHECK(products[k] == Approx(matrix[k]).margin(2e-3));
  }
}

TEST_CASE("full correlation is allowed, of either sign") {
  const JointNormal joint(std::vector<double>{1.0, 1.0, -1.0, 1.0, 1.0, -1.0, -1.0, -1.0, 1.0});
  std::vector<double> z{0.7, 5.0, 6.0};
  joint.correlate(z);
  CHECK(z == std::vector<double>{0.7, 0.7, -0.7});
}

TEST_CASE("a number that is appended moves none of those before it") {
  const JointNormal two(std::vector<double>{1.0, 0.4, 0.4, 1.0});
  const JointNormal three(std::vector<double>{1.0, 0.4, 0.1, 0.4, 1.0, -0.5, 0.1, -0.5, 1.0});
  std::vector<double> short_z{0.3, -1.2}, long_z{0.3, -1.2, 2.0};
  two.correlate(short_z);
  three.correlate(long_z);
  CHECK(short_z[0] == 0.3);
  CHECK(long_z[0] == short_z[0]);
  CHECK(long_z[1] == short_z[1]);
}

TEST_CASE("correlated shares stay uniform, and their ranks correlate as theory says") {
  constexpr std::size_t count = 1 << 14;
  constexpr double r = 0.8;
  const JointNormal joint(std::vector<double>{1.0, r, r, 1.0});
  const numerics::QuasiRandom points(2, 4);
  double mean = 0.0, square = 0.0, product = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<double> u{points.value(0, i), points.value(1, i)};
    joint.correlate_shares(u);
    mean += u[1] / count;
    square += u[1] * u[1] / count;
    product += (u[0] - 0.5) * (u[1] - 0.5) / count;
  }
  CHECK(mean == Approx(0.5).margin(1e-3));
  CHECK(square == Approx(1.0 / 3.0).margin(1e-3));
  // Spearman's coefficient of a joint normal distribution: 6/pi asin(r/2).
  CHECK(12.0 * product == Approx(6.0 / std::acos(-1.0) * std::asin(r / 2.0)).margin(2e-3));
}

TEST_CASE("correlations that cannot hold together are refused in words") {
  const auto make = [](std::vector<double> matrix) { return JointNormal(matrix); };
  CHECK_THROWS_WITH(make({1.0, 0.9, -0.9, 0.9, 1.0, 0.9, -0.9, 0.9, 1.0}),
                    Catch::Contains("number 3") && Catch::Contains("contradict"));
  CHECK_THROWS_WITH(make({1.0, 1.0, 0.2, 1.0, 1.0, 0.3, 0.2, 0.3, 1.0}),
                    Catch::Contains("contradict"));
  CHECK_THROWS_WITH(make({1.0, 0.5, 0.4, 1.0}), Catch::Contains("one way"));
  CHECK_THROWS_WITH(make({1.0, 1.5, 1.5, 1.0}), Catch::Contains("not within"));
  CHECK_THROWS_WITH(make({2.0}), Catch::Contains("itself"));
  CHECK_THROWS_AS(make({1.0, 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(make({}), std::invalid_argument);
  std::vector<double> three{0.0, 0.0, 0.0};
  CHECK_THROWS_AS(make({1.0, 0.5, 0.5, 1.0}).correlate(three), std::invalid_argument);
}

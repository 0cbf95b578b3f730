// A polynomial through draws against models whose Sobol' indices are known in closed form.

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <numbers>
#include <numeric>
#include <random>
#include <stdexcept>

#include "ohmdrag/numerics/quasi_random.hpp"
#include "ohmdrag/numerics/sparse_polynomial.hpp"
#include "ohmdrag/quantity/distribution.hpp"

using namespace ohmdrag;
using numerics::InputScale;
using numerics::SparsePolynomial;

namespace {

struct Rows {
  std::vector<std::vector<double>> shares;  ///< [input][row]
  std::vector<double> outcomes;
};

Rows rows_of(std::size_t inputs, std::size_t count,
             const std::function<double(const std::vector<double>&)>& model) {
  const numerics::QuasiRandom cube(inputs, 11);
  Rows rows{std::vector(inputs, std::vector<double>(count)), {}};
  std::vector<double> at(inputs);
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t k = 0; k < inputs; ++k) rows.shares[k][i] = at[k] = cube.value(k, i);
    rows.outcomes.push_back(model(at));
  }
  return rows;
}

const std::vector<std::vector<std::size_t>> each_of_three{{0}, {1}, {2}};

}  // namespace

TEST_CASE("a polynomial of the third degree is found exactly", "[numerics]") {
  // Orthonormal terms, so variances 4, 1, 0.25 and 0.25; the others of 40 inputs do nothing.
  const auto model = [](const std::vector<double>& u) {
    const double z = normal_quantile(u[1]), x = std::sqrt(3.0) * (2.0 * u[0] - 1.0);
    return 5.0 + 2.0 * x + z + 0.5 * x * z + 0.5 * (z * z - 1.0) / std::numbers::sqrt2;
  };
  const Rows rows = rows_of(40, 256, model);
  std::vector<InputScale> scales(40, InputScale::score);
  scales[0] = InputScale::share;
  const SparsePolynomial found({rows.shares, scales}, rows.outcomes);
  CHECK(found.terms() == 4);
  CHECK(found.unexplained() < 1e-12);
  const numerics::SobolIndices indices = found.indices({{0}, {1}, {0, 1}, {7}});
  CHECK(indices.mean == Approx(5.0));
  CHECK(indices.variance == Approx(5.5));
  CHECK(indices.group[0].first == Approx(4.0 / 5.5));
  CHECK(indices.group[0].total == Approx(4.25 / 5.5));
  CHECK(indices.group[1].first == Approx(1.25 / 5.5));
  CHECK(indices.group[1].total == Approx(1.5 / 5.5));
  CHECK(indices.group[2].first == Approx(1.0));
  CHECK(indices.group[3].total == 0.0);
  CHECK(indices.group[0].first_error < 1e-9);
}

TEST_CASE("a product of factors is as far off as it leaves unexplained", "[numerics]") {
  // exp of 0.4 a + 0.3 b + 0.2 c: S = (exp(s^2) - 1)/(exp(sum of s^2) - 1).
  const std::array s{0.4, 0.3, 0.2};
  const Rows rows = rows_of(3, 1024, [&](const std::vector<double>& u) {
    double sum = 0.0;
    for (std::size_t k = 0; k < 3; ++k) sum += s[k] * normal_quantile(u[k]);
    return std::exp(sum);
  });
  const SparsePolynomial found({rows.shares, std::vector(3, InputScale::score)}, rows.outcomes);
  CHECK(found.unexplained() < 0.005);
  const numerics::SobolIndices indices = found.indices(each_of_three);
  const double all = std::exp(0.16 + 0.09 + 0.04) - 1.0;
  for (std::size_t k = 0; k < 3; ++k) {
    const double own = std::exp(s[k] * s[k]) - 1.0;
    const double other = (all + 1.0) / (own + 1.0) - 1.0;
    CAPTURE(k);
    CHECK(indices.group[k].first == Approx(own / all).margin(0.01));
    CHECK(indices.group[k].total == Approx(1.0 - other / all).margin(0.01));
    CHECK(indices.group[k].first_error < 0.01);
  }
}

TEST_CASE("what no such polynomial follows is told", "[numerics]") {
  // Ishigami's function: sines, a fourth power.
  const Rows rows = rows_of(3, 1024, [](const std::vector<double>& u) {
    const auto x = [&](std::size_t k) { return std::numbers::pi * (2.0 * u[k] - 1.0); };
    return std::sin(x(0)) + 7.0 * std::pow(std::sin(x(1)), 2) +
           0.1 * std::pow(x(2), 4) * std::sin(x(0));
  });
  const SparsePolynomial found({rows.shares, std::vector(3, InputScale::share)}, rows.outcomes);
  CHECK(found.unexplained() > 0.3);

  // Noise that no input makes: rows that it has not seen are no better known than by their mean.
  Rows noise = rows_of(20, 128, [](const std::vector<double>&) { return 0.0; });
  std::mt19937_64 engine(99);
  for (double& outcome : noise.outcomes) outcome = static_cast<double>(engine() >> 11) * 0x1p-53;
  CHECK(SparsePolynomial({noise.shares, std::vector(20, InputScale::share)}, noise.outcomes)
            .unexplained() > 0.7);
}

TEST_CASE("an outcome that never varies has no terms", "[numerics]") {
  const Rows rows = rows_of(3, 128, [](const std::vector<double>&) { return 7.0; });
  const SparsePolynomial found({rows.shares, std::vector(3, InputScale::share)}, rows.outcomes);
  CHECK(found.terms() == 0);
  CHECK(found.unexplained() == Approx(0.0).margin(1e-12));
  CHECK(found.indices(each_of_three).group[1].total == 0.0);
  CHECK(found.indices(each_of_three).mean == Approx(7.0));
}

TEST_CASE("rows that are too few, missing or without a value are refused", "[numerics]") {
  const auto line = [](const std::vector<double>& u) { return u[0]; };
  const std::vector scales(3, InputScale::share);
  const Rows few = rows_of(3, 127, line);
  CHECK_THROWS_AS(SparsePolynomial({few.shares, scales}, few.outcomes), std::invalid_argument);
  CHECK_THROWS_AS(SparsePolynomial({{}, {}}, few.outcomes), std::invalid_argument);
  Rows rows = rows_of(3, 128, line);
  using numerics::PolynomialInputs;
  CHECK_THROWS_AS(PolynomialInputs(rows.shares, std::span(scales).first(2)), std::invalid_argument);
  CHECK_THROWS_AS(SparsePolynomial({few.shares, scales}, rows.outcomes), std::invalid_argument);
  rows.outcomes[5] = INFINITY;
  CHECK_THROWS_AS(SparsePolynomial({rows.shares, scales}, rows.outcomes), std::invalid_argument);
  rows.shares[1].pop_back();
  CHECK_THROWS_AS(PolynomialInputs(rows.shares, scales), std::invalid_argument);
}

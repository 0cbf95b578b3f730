#include "ohmdrag/numerics/sobol_indices.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "ohmdrag/numerics/quantiles.hpp"

using namespace ohmdrag::numerics;

namespace {

/// a + 2 b + c d of standard normal inputs: variances 1, 4 and 1, the last one shared.
double sum_and_product(std::span<const double> u) {
  return normal_quantile(u[0], 0.0, 1.0) + 2.0 * normal_quantile(u[1], 0.0, 1.0) +
         normal_quantile(u[2], 0.0, 1.0) * normal_quantile(u[3], 0.0, 1.0);
}

}  // namespace

TEST_CASE("indices of a sum and a product are those of theory, within their errors") {
  const auto result = sobol_indices(SobolDesign(4, one_by_one(4)), sum_and_product);
  CHECK(result.mean == Approx(0.0).margin(0.02));
  CHECK(result.variance == Approx(6.0).epsilon(0.02));
  const std::vector<double> first{1.0 / 6.0, 4.0 / 6.0, 0.0, 0.0};
  const std::vector<double> total{1.0 / 6.0, 4.0 / 6.0, 1.0 / 6.0, 1.0 / 6.0};
  for (std::size_t i = 0; i < 4; ++i) {
    CAPTURE(i);
    const SobolIndex& index = result.group[i];
    CHECK(index.first == Approx(first[i]).margin(0.01));
    CHECK(index.total == Approx(total[i]).margin(0.01));
    CHECK(std::abs(index.first - first[i]) < 5.0 * index.first_error + 1e-3);
    CHECK(std::abs(index.total - total[i]) < 5.0 * index.total_error + 1e-3);
    CHECK(index.first_error < 0.01);
  }
}

TEST_CASE("a group counts what its inputs do together") {
  const auto result = sobol_indices(SobolDesign(4, {{2, 3}, {0}}), sum_and_product);
  REQUIRE(result.group.size() == 2);
  CHECK(result.group[0].first == Approx(1.0 / 6.0).margin(0.01));
  CHECK(result.group[0].total == Approx(1.0 / 6.0).margin(0.01));
  CHECK(result.group[1].total == Approx(1.0 / 6.0).margin(0.01));
  CHECK(result.variance == Approx(6.0).epsilon(0.02));
}

TEST_CASE("groups that overlap have each the index they would have alone") {
  const auto alone = sobol_indices(SobolDesign(4, {{0, 1}}), sum_and_product);
  const auto beside = sobol_indices(SobolDesign(4, {{0}, {0, 1}, {1, 2, 3}}), sum_and_product);
  CHECK(beside.group[1].first == alone.group[0].first);
  CHECK(beside.group[1].total == alone.group[0].total);
  CHECK(beside.group[1].first == Approx(5.0 / 6.0).margin(0.01));
  CHECK(beside.group[2].first == Approx(5.0 / 6.0).margin(0.01));
}

TEST_CASE("standard errors tell how far the indices are off") {
  const std::vector<double> first{1.0 / 6.0, 4.0 / 6.0, 0.0, 0.0};
  int within = 0, all = 0;
  for (std::uint64_t seed = 1; seed <= 25; ++seed) {
    const auto result =
        sobol_indices(SobolDesign(4, one_by_one(4), {.points = 64, .replicates = 16, .seed = seed}),
                      sum_and_product);
    for (std::size_t i = 0; i < 4; ++i, ++all)
      within += std::abs(result.group[i].first - first[i]) < 2.0 * result.group[i].first_error;
  }
  CHECK(within > 0.85 * all);
}

TEST_CASE("runs may be made in any order, and an outcome that never varies has no indices") {
  const SobolDesign design(2, one_by_one(2), {.points = 8, .replicates = 2});
  CHECK(design.runs() == 8 * 2 * 4);
  std::vector<double> shares(2), again(2);
  design.write_shares(17, again);
  design.write_shares(3, shares);
  design.write_shares(17, shares);
  CHECK(shares == again);
  // Of the first point: A, B, and A with one input from B.
  std::vector<double> a(2), b(2), first_from_b(2), second_from_b(2);
  design.write_shares(0, a);
  design.write_shares(1, b);
  design.write_shares(2, first_from_b);
  design.write_shares(3, second_from_b);
  CHECK(first_from_b == std::vector<double>{b[0], a[1]});
  CHECK(second_from_b == std::vector<double>{a[0], b[1]});

  const auto constant = design.indices(std::vector<double>(design.runs(), 2.5));
  CHECK(constant.mean == 2.5);
  CHECK(constant.variance == 0.0);
  CHECK(constant.group[0].total == 0.0);
}

TEST_CASE("designs and outcomes that are none are refused") {
  CHECK_THROWS_AS(SobolDesign(0, {{0}}), std::invalid_argument);
  CHECK_THROWS_AS(SobolDesign(2000, {{0}}), std::invalid_argument);
  CHECK_THROWS_AS(SobolDesign(2, {}), std::invalid_argument);
  CHECK_THROWS_AS(SobolDesign(2, {{}}), std::invalid_argument);
  CHECK_THROWS_AS(SobolDesign(2, {{2}}), std::invalid_argument);
  CHECK_THROWS_AS(SobolDesign(2, {{0}, {1, 1}}), std::invalid_argument);
  CHECK_THROWS_AS(SobolDesign(2, {{0}}, {.points = 12}), std::invalid_argument);
  CHECK_THROWS_AS(SobolDesign(2, {{0}}, {.replicates = 1}), std::invalid_argument);
  const SobolDesign design(2, {{0}}, {.points = 2, .replicates = 2});
  std::vector<double> shares(2), outcomes(design.runs(), 1.0);
  CHECK_THROWS_AS(design.write_shares(design.runs(), shares), std::out_of_range);
  outcomes.back() = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(design.indices(outcomes), std::invalid_argument);
  outcomes.pop_back();
  CHECK_THROWS_AS(design.indices(outcomes), std::invalid_argument);
}

#include "ohmdrag/numerics/monte_carlo.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <thread>
#include <vector>

#include "ohmdrag/numerics/quantiles.hpp"

using namespace ohmdrag::numerics;

namespace {

double product_of_two(std::span<const double> u) {
  return normal_quantile(u[0], 3.0, 0.2) * log_normal_quantile(u[1], 2.0, 0.3);
}

/// So many threads that take pieces of uneven length, the last one first.
ShareOut threads(std::size_t number) {
  return [number](std::size_t trials, const Piece& piece) {
    std::vector<std::thread> running;
    std::size_t end = trials;
    for (std::size_t left = number; left > 0; --left) {
      const std::size_t first = left == 1 ? 0 : end - end / (left + 1);
      running.emplace_back([&piece, first, count = end - first] { piece(first, count); });
      end = first;
    }
    for (auto& thread : running) thread.join();
  };
}

bool same(const MonteCarloResult& a, const MonteCarloResult& b) {
  return a.trials == b.trials && a.estimate == b.estimate && a.uncertainty == b.uncertainty &&
         a.symmetric.low == b.symmetric.low && a.symmetric.high == b.symmetric.high &&
         a.shortest.low == b.shortest.low && a.shortest.high == b.shortest.high &&
         a.estimate_error == b.estimate_error && a.low_error == b.low_error;
}

}  // namespace

TEST_CASE("the result does not hang on who computed which trial") {
  for (const Points points : {Points::quasi_random, Points::pseudo_random}) {
    const auto trials = trials_of(product_of_two, 2, points, 5);
    const MonteCarloOptions options{.significant_digits = 1};
    const auto alone = adaptive_monte_carlo(trials, options);
    for (const std::size_t number : {1, 2, 3, 7})
      CHECK(same(adaptive_monte_carlo(trials, options, threads(number)), alone));
    CHECK_FALSE(
        same(adaptive_monte_carlo(trials_of(product_of_two, 2, points, 6), options), alone));
  }
}

TEST_CASE("trials stop when the figures stand still, and tell the truth to their tolerance") {
  // A product of independent factors: mean and variance by those of the factors.
  const double mean_of_second = 2.0 * std::exp(0.045);
  const double square_of_second = mean_of_second * mean_of_second * std::exp(0.09);
  const double mean = 3.0 * mean_of_second;
  const double uncertainty = std::sqrt((9.0 + 0.04) * square_of_second - mean * mean);
  for (const Points points : {Points::quasi_random, Points::pseudo_random}) {
    const auto result = adaptive_monte_carlo(trials_of(product_of_two, 2, points, 1));
    CHECK(result.stabilised);
    CHECK(result.tolerance == 0.05);  // 2.0
    CHECK(result.trials == 16384 * result.blocks);
    CHECK(result.estimate == Approx(mean).margin(result.tolerance));
    CHECK(result.uncertainty == Approx(uncertainty).margin(result.tolerance));
    CHECK(result.shortest.width() < result.symmetric.width());
  }
}

TEST_CASE("quasi-random points stand still with fewer trials than random ones") {
  const MonteCarloOptions options{.tolerance_share = 0.2, .trials_a_block = 4096};
  const auto quasi =
      adaptive_monte_carlo(trials_of(product_of_two, 2, Points::quasi_random, 1), options);
  const auto pseudo =
      adaptive_monte_carlo(trials_of(product_of_two, 2, Points::pseudo_random, 1), options);
  CAPTURE(quasi.blocks, pseudo.blocks);
  CHECK(quasi.stabilised);
  CHECK(3 * quasi.blocks < pseudo.blocks);
}

TEST_CASE("figures that never stand still are said to be so") {
  // Cauchy's distribution has no variance.
  const auto result = adaptive_monte_carlo(
      trials_of([](std::span<const double> u) { return student_quantile(u[0], 0.0, 1.0, 1.0); }, 1,
                Points::pseudo_random, 2),
      {.significant_digits = 3, .most_blocks = 6});
  CHECK_FALSE(result.stabilised);
  CHECK(result.blocks == 6);
}

TEST_CASE("what differs from block to block is part of the uncertainty") {
  // -1 and 1 around 0, 1, 2 and 3.
  const Trials drifting = [](std::size_t block, std::size_t first, std::span<double> outcomes) {
    for (std::size_t i = 0; i < outcomes.size(); ++i)
      outcomes[i] = static_cast<double>(block) + ((first + i) % 2 == 0 ? -1.0 : 1.0);
  };
  const auto result = adaptive_monte_carlo(drifting, {.most_blocks = 4});
  CHECK_FALSE(result.stabilised);
  CHECK(result.estimate == Approx(1.5));
  CHECK(result.uncertainty == Approx(std::sqrt(1.0 + 1.25)).epsilon(1e-4));
  CHECK(result.estimate_error == Approx(2.0 * std::sqrt(5.0 / 3.0 / 4.0)));
}

TEST_CASE("an outcome that never varies has an interval of no width") {
  const auto result = adaptive_monte_carlo(
      trials_of([](std::span<const double>) { return 4.0; }, 1, Points::quasi_random, 2));
  CHECK(result.stabilised);
  CHECK(result.estimate == 4.0);
  CHECK(result.uncertainty == 0.0);
  CHECK(result.symmetric.width() == 0.0);
}

TEST_CASE("the tolerance is half a unit of the last digit that counts") {
  CHECK(numerical_tolerance(0.00035, 2) == Approx(0.000005));
  CHECK(numerical_tolerance(0.00035, 1) == Approx(0.00005));
  CHECK(numerical_tolerance(10.0, 1) == Approx(5.0));
  CHECK(numerical_tolerance(9.6, 1) == Approx(5.0));
  CHECK(numerical_tolerance(9.4, 1) == Approx(0.5));
  CHECK(numerical_tolerance(0.0996, 2) == Approx(0.005));
  CHECK(numerical_tolerance(0.0, 2) == 0.0);
  CHECK_THROWS_AS(numerical_tolerance(-1.0, 2), std::invalid_argument);
  CHECK_THROWS_AS(numerical_tolerance(1.0, 0), std::invalid_argument);
}

TEST_CASE("options and outcomes that are none are refused") {
  const auto trials = trials_of(product_of_two, 2, Points::quasi_random, 1);
  CHECK_THROWS_AS(adaptive_monte_carlo(trials, {.coverage = 1.0}), std::invalid_argument);
  CHECK_THROWS_AS(adaptive_monte_carlo(trials, {.tolerance_share = 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(adaptive_monte_carlo(trials, {.trials_a_block = 1}), std::invalid_argument);
  CHECK_THROWS_AS(adaptive_monte_carlo(trials, {.fewest_blocks = 1}), std::invalid_argument);
  CHECK_THROWS_AS(adaptive_monte_carlo(trials, {.most_blocks = 3}), std::invalid_argument);
  CHECK_THROWS_AS(trials_of(product_of_two, 0, Points::quasi_random, 1), std::invalid_argument);
  CHECK_THROWS_AS(trials_of(product_of_two, 4000, Points::quasi_random, 1), std::invalid_argument);
  const auto open = trials_of(
      [](std::span<const double> u) {
        return u[0] < 0.5 ? 1.0 : std::numeric_limits<double>::infinity();
      },
      1, Points::quasi_random, 1);
  CHECK_THROWS_AS(adaptive_monte_carlo(open), std::invalid_argument);
}

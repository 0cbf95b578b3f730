#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "ohmdrag/numerics/gum.hpp"
#include "ohmdrag/numerics/monte_carlo.hpp"
#include "ohmdrag/numerics/quantiles.hpp"

// A linear stack of tolerances: a bore, a ring and a shaft make an interference, in um, invented.
// All corners of the tolerance fields give the worst case, and through the exact distribution of a
// sum of uniform parts every quantile as well:
//
//     P(sum <= x) = sum over the corners of sign*max(0, x - corner)^n / (n! product of the widths)
//
// with the sign that of the number of upper limits in the corner: D. L. Barrow, P. W. Smith, Spline
// notation applied to a volume problem, Am. Math. Mon. 86 (1979) 50-51 (from memory).
// Parts whose limits are three standard deviations: root sum of squares, common practice, no
// source.

using namespace ohmdrag::numerics;

namespace {

struct Field {
  double factor, low, high;
};
const std::vector<Field> stack{{1.0, 480.0, 520.0},
                               {2.0, -12.0, 0.0},
                               {-1.0, 0.0, 25.0},
                               {0.5, -30.0, 30.0},
                               {-1.0, -4.0, 4.0}};

struct Corner {
  double sum;
  int uppers;
};

std::vector<Corner> corners() {
  std::vector<Corner> all{{0.0, 0}};
  for (const Field& field : stack) {
    std::vector<Corner> next;
    const auto [low, high] = std::minmax({field.factor * field.low, field.factor * field.high});
    for (const Corner& corner : all) {
      next.push_back({corner.sum + low, corner.uppers});
      next.push_back({corner.sum + high, corner.uppers + 1});
    }
    all = next;
  }
  return all;
}

double share_below(double x) {
  double sum = 0.0, scale = 1.0;
  const auto n = static_cast<double>(stack.size());
  for (const Corner& corner : corners())
    sum += (corner.uppers % 2 == 0 ? 1.0 : -1.0) * std::pow(std::max(0.0, x - corner.sum), n);
  for (std::size_t i = 0; i < stack.size(); ++i)
    scale *=
        static_cast<double>(i + 1) * std::abs(stack[i].factor) * (stack[i].high - stack[i].low);
  return sum / scale;
}

MonteCarloResult drawn(double (*quantile)(double, double, double), double coverage, int digits) {
  auto result = adaptive_monte_carlo(trials_of(
                                         [quantile](std::span<const double> u) {
                                           double sum = 0.0;
                                           for (std::size_t i = 0; i < stack.size(); ++i)
                                             sum += stack[i].factor *
                                                    quantile(u[i], stack[i].low, stack[i].high);
                                           return sum;
                                         },
                                         stack.size(), Points::quasi_random, 1),
                                     {.coverage = coverage, .significant_digits = digits});
  CHECK(result.stabilised);
  return result;
}

}  // namespace

TEST_CASE("corners of a linear stack against Monte Carlo", "[published][formula]") {
  const auto all = corners();
  REQUIRE(all.size() == 32);
  const auto [least, most] = std::minmax_element(
      all.begin(), all.end(), [](const Corner& a, const Corner& b) { return a.sum < b.sum; });
  CHECK(least->sum == 480.0 - 24.0 - 25.0 - 15.0 - 4.0);
  CHECK(most->sum == 520.0 + 0.0 - 0.0 + 15.0 + 4.0);
  CHECK(share_below(most->sum) == Approx(1.0).epsilon(1e-9));

  for (const double coverage : {0.90, 0.95}) {
    const auto result = drawn(uniform_quantile, coverage, 3);
    CAPTURE(coverage);
    CHECK(share_below(result.symmetric.low) == Approx(0.5 - coverage / 2.0).margin(6e-4));
    CHECK(share_below(result.symmetric.high) == Approx(0.5 + coverage / 2.0).margin(6e-4));
    // No draw reaches a corner of all five: that is what the worst case costs.
    CHECK(result.symmetric.low > least->sum);
    CHECK(result.symmetric.high < most->sum);
    CHECK(result.symmetric.width() < 0.65 * (most->sum - least->sum));
  }
}

TEST_CASE("a stack of normal parts is the root sum of squares", "[published][formula]") {
  const auto part = [](double u, double low, double high) {
    return normal_quantile(u, (low + high) / 2.0, (high - low) / 6.0);
  };
  std::vector<GumInput> inputs;
  double squares = 0.0;
  for (const Field& field : stack) {
    inputs.push_back({(field.low + field.high) / 2.0, (field.high - field.low) / 6.0});
    squares += std::pow(field.factor * (field.high - field.low) / 2.0, 2);
  }
  const auto gum = first_order(
      [](std::span<const double> x) {
        double sum = 0.0;
        for (std::size_t i = 0; i < stack.size(); ++i) sum += stack[i].factor * x[i];
        return sum;
      },
      inputs);
  CHECK(3.0 * gum.uncertainty == Approx(std::sqrt(squares)).epsilon(1e-9));
  const auto result = drawn(part, 0.9973, 2);
  CHECK(result.symmetric.high - gum.estimate == Approx(std::sqrt(squares)).epsilon(0.02));
  CHECK(agreement(gum, coverage_factor(0.9973, std::numeric_limits<double>::infinity()),
                  result.symmetric, 2)
            .within());
}

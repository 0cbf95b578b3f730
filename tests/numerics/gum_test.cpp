#include "ohmdrag/numerics/gum.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

using namespace ohmdrag::numerics;

namespace {

double sum(std::span<const double> x) { return x[0] + x[1]; }
double difference(std::span<const double> x) { return x[0] - x[1]; }
double nothing_finite(std::span<const double>) { return std::numeric_limits<double>::quiet_NaN(); }

}  // namespace

TEST_CASE("variances of a sum add, and correlation adds or takes away") {
  const std::vector<GumInput> inputs{{1.0, 0.3}, {2.0, 0.4}};
  CHECK(first_order(sum, inputs).estimate == 3.0);
  CHECK(first_order(sum, inputs).uncertainty == Approx(0.5));
  const std::vector<double> full{1.0, 1.0, 1.0, 1.0};
  CHECK(first_order(sum, inputs, full).uncertainty == Approx(0.7));
  CHECK(first_order(difference, inputs, full).uncertainty == Approx(0.1));
}

TEST_CASE("contributions are slopes, not differences over the whole uncertainty") {
  const std::vector<GumInput> inputs{{0.6, 0.25}};
  const auto result = first_order([](std::span<const double> x) { return std::log(x[0]); }, inputs);
  CHECK(result.contribution[0] == Approx(0.25 / 0.6).epsilon(1e-6));
}

TEST_CASE("an input without uncertainty contributes nothing") {
  const std::vector<GumInput> inputs{{1.0, 0.3}, {2.0, 0.0}};
  const auto result = first_order(sum, inputs);
  CHECK(result.contribution[1] == 0.0);
  CHECK(result.uncertainty == Approx(0.3));
}

TEST_CASE("results that share their inputs have a covariance") {
  const std::vector<GumInput> inputs{{1.0, 0.3}, {2.0, 0.4}};
  const auto a = first_order(sum, inputs), b = first_order(difference, inputs);
  CHECK(covariance(a, b) == Approx(0.09 - 0.16));
  CHECK(covariance(a, a) == Approx(0.25));
  const std::vector<double> other(9, 1.0);
  CHECK_THROWS_AS(covariance(a, b, other), std::invalid_argument);
}

TEST_CASE("effective degrees of freedom after Welch and Satterthwaite") {
  CHECK(std::isinf(
      *first_order(sum, std::vector<GumInput>{{1.0, 0.3}, {2.0, 0.4}}).degrees_of_freedom));
  // Equal parts of ten degrees each add up.
  std::vector<GumInput> inputs{{1.0, 0.3, 10.0}, {2.0, 0.3, 10.0}};
  CHECK(*first_order(sum, inputs).degrees_of_freedom == Approx(20.0));
  inputs[1].degrees_of_freedom = std::numeric_limits<double>::infinity();
  CHECK(*first_order(sum, inputs).degrees_of_freedom == Approx(40.0));
  const std::vector<double> correlated{1.0, 0.5, 0.5, 1.0};
  CHECK_FALSE(first_order(sum, inputs, correlated).degrees_of_freedom);
}

TEST_CASE("the second order adds what curvature makes of the spread") {
  // x^2 at 0 with u: mean u^2, variance 2 u^4, nothing of it in the first order.
  const auto square = [](std::span<const double> x) { return x[0] * x[0]; };
  const std::vector<GumInput> at_zero{{0.0, 0.5}};
  CHECK(first_order(square, at_zero).uncertainty == 0.0);
  CHECK(second_order_uncertainty(square, at_zero) == Approx(std::sqrt(2.0) * 0.25));
  // A product at zero: u_x u_y.
  const std::vector<GumInput> both{{0.0, 0.5}, {0.0, 0.2}};
  const auto product = [](std::span<const double> x) { return x[0] * x[1]; };
  CHECK(second_order_uncertainty(product, both) == Approx(0.1));
  CHECK(second_order_uncertainty(sum, both) == Approx(first_order(sum, both).uncertainty));
  // x y^2: f_x f_xyy alone, beside f_xy: 2 y u_y u_x, and f_yy.
  const std::vector<GumInput> away{{2.0, 0.1}, {3.0, 0.2}};
  const auto cubic = [](std::span<const double> x) { return x[0] * x[1] * x[1]; };
  const double expected = std::pow(9.0 * 0.1, 2) + std::pow(12.0 * 0.2, 2) +
                          2.0 * 0.5 * std::pow(6.0 * 0.1 * 0.2, 2) + 0.5 * std::pow(4.0 * 0.04, 2) +
                          9.0 * 2.0 * 0.01 * 0.04;
  CHECK(second_order_uncertainty(cubic, away) == Approx(std::sqrt(expected)));
}

TEST_CASE("the coverage factor is Student's t of whole degrees") {
  CHECK(coverage_factor(0.95, std::numeric_limits<double>::infinity()) == Approx(1.959964));
  CHECK(coverage_factor(0.95, 16.9) == coverage_factor(0.95, 16.0));
  CHECK(coverage_factor(0.95, 0.5) > coverage_factor(0.95, 1.0));
  CHECK_THROWS_AS(coverage_factor(1.0, 5.0), std::invalid_argument);
  CHECK_THROWS_AS(coverage_factor(0.9, 0.0), std::invalid_argument);
}

TEST_CASE("ends of intervals agree or not") {
  const GumResult gum{.estimate = 1.0, .uncertainty = 0.20};
  const auto near = agreement(gum, 2.0, {0.603, 1.404}, 2);
  CHECK(near.tolerance == Approx(0.005));
  CHECK(near.within());
  CHECK_FALSE(agreement(gum, 2.0, {0.603, 1.41}, 2).within());
  CHECK(agreement(gum, 2.0, {0.603, 1.41}, 1).within());
  CHECK_THROWS_AS(agreement(gum, 0.0, {0.6, 1.4}, 2), std::invalid_argument);
}

TEST_CASE("inputs that cannot be propagated are refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(first_order(sum, {}), std::invalid_argument);
  CHECK_THROWS_AS(first_order(sum, std::vector<GumInput>{{1.0, -0.1}, {1.0, 0.1}}),
                  std::invalid_argument);
  CHECK_THROWS_AS(first_order(sum, std::vector<GumInput>{{1.0, nan}, {1.0, 0.1}}),
                  std::invalid_argument);
  CHECK_THROWS_AS(first_order(sum, std::vector<GumInput>{{1.0, 0.1, 0.0}, {1.0, 0.1}}),
                  std::invalid_argument);
  CHECK_THROWS_AS(first_order(nothing_finite, std::vector<GumInput>{{1.0, 0.1}}),
                  std::invalid_argument);
  const std::vector<double> three{1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0};
  CHECK_THROWS_AS(first_order(sum, std::vector<GumInput>{{1.0, 0.1}, {1.0, 0.1}}, three),
                  std::invalid_argument);
}

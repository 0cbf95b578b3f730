#include "ohmdrag/numerics/quantiles.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <string>

using namespace ohmdrag::numerics;

namespace {

struct Law {
  std::string name;
  std::function<double(double)> quantile;
  double mean, deviation;
};

Law law(int which) {
  switch (which) {
    case 0:
      return {"normal", [](double u) { return normal_quantile(u, 3.0, 2.0); }, 3.0, 2.0};
    case 1:
      // Half normal: mean sqrt(2/pi), variance 1 - 2/pi.
      return {"half normal",
              [](double u) { return truncated_normal_quantile(u, 0.0, 1.0, 0.0, 40.0); },
              std::sqrt(2.0 / std::numbers::pi), std::sqrt(1.0 - 2.0 / std::numbers::pi)};
    case 2:
      return {"log-normal", [](double u) { return log_normal_quantile(u, 2.0, 0.5); },
              2.0 * std::exp(0.125), 2.0 * std::exp(0.125) * std::sqrt(std::exp(0.25) - 1.0)};
    case 3:
      return {"uniform", [](double u) { return uniform_quantile(u, -1.0, 2.0); }, 0.5,
              3.0 / std::sqrt(12.0)};
    case 4:
      return {"triangular", [](double u) { return triangular_quantile(u, 0.0, 1.0, 4.0); },
              5.0 / 3.0, std::sqrt((0.0 + 1.0 + 16.0 - 0.0 - 4.0 - 0.0) / 18.0)};
    case 5:
      return {"trapezoidal", [](double u) { return trapezoidal_quantile(u, 1.0, 3.0, 0.4); }, 2.0,
              std::sqrt(4.0 * (1.0 + 0.16) / 24.0)};
    case 6:
      // Variance (b - a)^2/12 + d^2/9: JCGM 101:2008, 6.4.3.4 (from memory).
      return {"curvilinear trapezoid",
              [](double u) { return curvilinear_trapezoidal_quantile(u, -0.05, 0.05, 0.025); }, 0.0,
              std::sqrt(0.01 / 12.0 + 0.025 * 0.025 / 9.0)};
    case 7:
      return {"Student", [](double u) { return student_quantile(u, 215.0, 6.0, 24.0); }, 215.0,
              6.0 * std::sqrt(24.0 / 22.0)};
    default:
      return {"arc sine", [](double u) { return arc_sine_quantile(u, -0.5, 0.5); }, 0.0,
              0.5 / std::sqrt(2.0)};
  }
}

}  // namespace

TEST_CASE("each distribution has its mean and its deviation, and rises with the share") {
  const Law tested = law(GENERATE(range(0, 9)));
  CAPTURE(tested.name);
  constexpr int count = 100'000;
  double sum = 0.0, squares = 0.0, before = -std::numeric_limits<double>::infinity();
  for (int i = 0; i < count; ++i) {
    const double value = tested.quantile((i + 0.5) / count) - tested.mean;
    CHECK_FALSE(value < before);
    before = value;
    sum += value;
    squares += value * value;
  }
  CHECK(sum / count == Approx(0.0).margin(1e-4 * tested.deviation));
  CHECK(std::sqrt(squares / count) == Approx(tested.deviation).epsilon(1e-3));
}

TEST_CASE("distributions meet those they turn into") {
  for (const double u : {0.001, 0.2, 0.5, 0.77, 0.999}) {
    CAPTURE(u);
    CHECK(trapezoidal_quantile(u, 1.0, 3.0, 1.0) == Approx(uniform_quantile(u, 1.0, 3.0)));
    CHECK(trapezoidal_quantile(u, 1.0, 3.0, 0.0) == Approx(triangular_quantile(u, 1.0, 2.0, 3.0)));
    CHECK(curvilinear_trapezoidal_quantile(u, 1.0, 3.0, 0.0) == uniform_quantile(u, 1.0, 3.0));
    CHECK(curvilinear_trapezoidal_quantile(u, 1.0, 3.0, 1e-6) ==
          Approx(uniform_quantile(u, 1.0, 3.0)).margin(2e-6));
    CHECK(student_quantile(u, 1.0, 2.0, 1e9) == Approx(normal_quantile(u, 1.0, 2.0)).epsilon(1e-6));
    CHECK(truncated_normal_quantile(u, 1.0, 2.0, -99.0, 99.0) ==
          Approx(normal_quantile(u, 1.0, 2.0)));
  }
  // With the whole half width as slack the density has a peak without end in the middle.
  CHECK(curvilinear_trapezoidal_quantile(0.5, 1.0, 3.0, 1.0) == Approx(2.0));
  CHECK(curvilinear_trapezoidal_quantile(0.4999, 1.0, 3.0, 1.0) > 1.999);
  CHECK(triangular_quantile(0.3, 0.0, 0.0, 1.0) == Approx(1.0 - std::sqrt(0.7)));
  CHECK(triangular_quantile(0.3, 0.0, 1.0, 1.0) == Approx(std::sqrt(0.3)));
}

TEST_CASE("a share or a width that is none is refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (int which = 0; which < 9; ++which) {
    const Law tested = law(which);
    CAPTURE(tested.name);
    for (const double u : {0.0, 1.0, -0.1, nan})
      CHECK_THROWS_AS(tested.quantile(u), std::invalid_argument);
  }
  CHECK_THROWS_AS(normal_quantile(0.5, 0.0, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(truncated_normal_quantile(0.5, 0.0, 1.0, 2.0, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(log_normal_quantile(0.5, -1.0, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(uniform_quantile(0.5, 1.0, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(triangular_quantile(0.5, 0.0, 2.0, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(trapezoidal_quantile(0.5, 0.0, 1.0, 1.1), std::invalid_argument);
  CHECK_THROWS_AS(curvilinear_trapezoidal_quantile(0.5, 0.0, 1.0, 0.6), std::invalid_argument);
  CHECK_THROWS_AS(student_quantile(0.5, 0.0, 1.0, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(arc_sine_quantile(0.5, 1.0, nan), std::invalid_argument);
}

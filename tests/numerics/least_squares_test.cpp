#include "ohmdrag/numerics/least_squares.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <vector>

using namespace ohmdrag;
using numerics::Dual;
using numerics::FitParameter;
using numerics::least_squares;
using numerics::Loss;

namespace {

/// Residuals of a straight line a + b x through points.
numerics::ResidualFunction line(const std::vector<double>& x, const std::vector<double>& y) {
  return numerics::with_slopes<2>(
      [x, y](const std::array<Dual<2>, 2>& p, std::size_t i) { return p[0] + p[1] * x[i] - y[i]; });
}
const std::vector<FitParameter> from_nothing{{.start = 0.0}, {.start = 0.0}};

/// Points of 3 + 2 x with normal noise of deviation 0.1; the generator is the standard's.
struct Points {
  std::vector<double> x, y;
  explicit Points(unsigned seed, std::size_t count = 50) {
    std::mt19937_64 random(seed);
    std::normal_distribution<double> noise(0.0, 0.1);
    for (std::size_t i = 0; i < count; ++i) {
      x.push_back(static_cast<double>(i) / 10.0);
      y.push_back(3.0 + 2.0 * x.back() + noise(random));
    }
  }
};

}  // namespace

TEST_CASE("slopes go through every operation") {
  using D = Dual<2>;
  const D a = D::parameter(1.3, 0), b = D::parameter(0.7, 1);
  const auto f = [](auto u, auto v) {
    using std::exp, std::expm1;
    return (u * v - exp(u / v)) / (v + 2.0) + expm1(u * v) - 3.0 * u;
  };
  const D result = f(a, b);
  CHECK(result.value == Approx(f(1.3, 0.7)).epsilon(1e-14));
  constexpr double h = 1e-6;
  CHECK(result.slope[0] == Approx((f(1.3 + h, 0.7) - f(1.3 - h, 0.7)) / (2 * h)).epsilon(1e-8));
  CHECK(result.slope[1] == Approx((f(1.3, 0.7 + h) - f(1.3, 0.7 - h)) / (2 * h)).epsilon(1e-8));
}

TEST_CASE("a line is the linear regression, from any start") {
  const Points p(1);
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  const auto n = static_cast<double>(p.x.size());
  for (std::size_t i = 0; i < p.x.size(); ++i) {
    sx += p.x[i];
    sy += p.y[i];
    sxx += p.x[i] * p.x[i];
    sxy += p.x[i] * p.y[i];
  }
  const double slope = (n * sxy - sx * sy) / (n * sxx - sx * sx);
  const auto start = GENERATE(0.0, -1e6);
  const auto fit = least_squares(line(p.x, p.y), p.x.size(),
                                 std::vector<FitParameter>{{.start = start}, {.start = start}});
  CHECK(fit.converged);
  CHECK(fit.parameter[1] == Approx(slope).epsilon(1e-10));
  CHECK(fit.parameter[0] == Approx((sy - slope * sx) / n).epsilon(1e-10));
  // Standard error of the slope, s / sqrt(sum (x - mean)^2).
  CHECK(fit.standard_error(1) == Approx(fit.deviation / std::sqrt(sxx - sx * sx / n)));
  CHECK(fit.half_width(1) == Approx(2.0106 * fit.standard_error(1)).epsilon(1e-4));  // t(48)
}

TEST_CASE("data on the model are found without an error") {
  std::vector<double> x, y;
  for (int i = 0; i < 10; ++i) {
    x.push_back(i);
    y.push_back(1.5 - 0.25 * i);
  }
  const auto fit = least_squares(line(x, y), x.size(), from_nothing);
  CHECK(fit.converged);
  CHECK(fit.parameter[0] == Approx(1.5).epsilon(1e-12));
  CHECK(fit.parameter[1] == Approx(-0.25).epsilon(1e-12));
  CHECK(fit.standard_error(1) < 1e-12);
  CHECK(fit.outliers.empty());
}

TEST_CASE("what the data cannot tell is named") {
  const Points p(2);
  // The second and third parameter act as their sum alone.
  const auto fit = least_squares(
      numerics::with_slopes<3>([&](const std::array<Dual<3>, 3>& q, std::size_t i) {
        return q[0] + (q[1] + q[2]) * p.x[i] - p.y[i];
      }),
      p.x.size(), std::vector<FitParameter>{{.start = 0.0}, {.start = 0.5}, {.start = 0.1}});
  CHECK(fit.converged);
  CHECK(fit.untold == std::vector<std::size_t>{1, 2});
  CHECK(std::isinf(fit.standard_error(1)));
  CHECK(fit.parameter[1] + fit.parameter[2] == Approx(2.0).margin(0.1));
  const auto plain = least_squares(line(p.x, p.y), p.x.size(), from_nothing);
  CHECK(fit.standard_error(0) == Approx(plain.standard_error(0)).epsilon(0.02));
}

TEST_CASE("a parameter without any effect keeps its start") {
  const Points p(3);
  const auto fit = least_squares(
      numerics::with_slopes<3>([&](const std::array<Dual<3>, 3>& q, std::size_t i) {
        return q[0] + q[1] * p.x[i] - p.y[i];
      }),
      p.x.size(), std::vector<FitParameter>{{.start = 0.0}, {.start = 0.0}, {.start = 7.0}});
  CHECK(fit.converged);
  CHECK(fit.untold == std::vector<std::size_t>{2});
  CHECK(fit.parameter[2] == 7.0);
}

TEST_CASE("bounds that do not bind change nothing") {
  const Points p(4);
  const auto free = least_squares(line(p.x, p.y), p.x.size(), from_nothing);
  const auto bounds = GENERATE(FitParameter{.start = 1.0, .low = 0.0},
                               FitParameter{.start = 1.0, .low = 0.0, .high = 10.0},
                               FitParameter{.start = 1.0, .low = -1e300, .high = 5.0});
  FitParameter slope = bounds;
  if (slope.low < -1e299) slope.low = FitParameter{}.low;
  const auto fit =
      least_squares(line(p.x, p.y), p.x.size(), std::vector<FitParameter>{{.start = 0.0}, slope});
  CHECK(fit.converged);
  CHECK(fit.parameter[1] == Approx(free.parameter[1]).epsilon(1e-8));
  CHECK(fit.standard_error(1) == Approx(free.standard_error(1)).epsilon(1e-6));
}

TEST_CASE("a bound that binds is not crossed") {
  const Points p(5);
  const auto fit = least_squares(
      line(p.x, p.y), p.x.size(),
      std::vector<FitParameter>{{.start = 0.0}, {.start = 1.0, .low = 0.0, .high = 1.5}});
  CHECK(fit.parameter[1] <= 1.5);
  CHECK(fit.parameter[1] == Approx(1.5).epsilon(1e-3));
}

TEST_CASE("outliers are listed, and a robust loss leans away from them") {
  Points p(6);
  p.y[7] += 8.0;
  p.y[40] -= 5.0;
  const auto squares = least_squares(line(p.x, p.y), p.x.size(), from_nothing);
  CHECK(squares.outliers == std::vector<std::size_t>{7, 40});
  CHECK(std::abs(squares.parameter[1] - 2.0) > 0.1);
  const auto loss = GENERATE(Loss::huber, Loss::tukey);
  const auto fit = least_squares(line(p.x, p.y), p.x.size(), from_nothing, {.loss = loss});
  CHECK(fit.converged);
  CHECK(fit.parameter[1] == Approx(2.0).margin(0.03));
  CHECK(fit.residual.size() == p.x.size());  // none is left out
  CHECK(fit.outliers == std::vector<std::size_t>{7, 40});
  CHECK(fit.deviation == Approx(0.1).epsilon(0.4));
  CHECK_FALSE(fit.aicc);
}

TEST_CASE("95 % intervals cover the truth in 95 % of the fits") {
  const auto loss = GENERATE(Loss::squares, Loss::huber, Loss::tukey);
  int covered = 0;
  constexpr int fits = 400;
  for (unsigned seed = 0; seed < fits; ++seed) {
    const Points p(1000 + seed);
    const auto fit = least_squares(line(p.x, p.y), p.x.size(), from_nothing, {.loss = loss});
    REQUIRE(fit.converged);
    if (std::abs(fit.parameter[1] - 2.0) <= fit.half_width(1)) ++covered;
  }
  // 95 % of 400 with a standard deviation of 4.4.
  CHECK(covered >= 363);
  CHECK(covered <= 395);
}

TEST_CASE("the criterion for few data prefers the line to the parabola where there is none") {
  const Points p(8);
  const auto straight = least_squares(line(p.x, p.y), p.x.size(), from_nothing);
  const auto bent =
      least_squares(numerics::with_slopes<3>([&](const std::array<Dual<3>, 3>& q, std::size_t i) {
                      return q[0] + p.x[i] * (q[1] + q[2] * p.x[i]) - p.y[i];
                    }),
                    p.x.size(), std::vector<FitParameter>(3));
  CHECK(bent.sum_of_squares <= straight.sum_of_squares);
  // Two more for each parameter, and a little more for few data.
  CHECK(*bent.aicc - *straight.aicc ==
        Approx(50.0 * std::log(bent.sum_of_squares / straight.sum_of_squares) +
               (8.0 + 40.0 / 45.0) - (6.0 + 24.0 / 46.0)));
}

TEST_CASE("a fit that cannot be made is refused") {
  const Points p(9);
  CHECK_THROWS_AS(least_squares(line(p.x, p.y), 2, from_nothing), std::invalid_argument);
  CHECK_THROWS_AS(least_squares(line(p.x, p.y), 50, std::vector<FitParameter>{}),
                  std::invalid_argument);
  CHECK_THROWS_AS(
      least_squares(line(p.x, p.y), 50,
                    std::vector<FitParameter>{{.start = 0.0}, {.start = 1.0, .low = 1}}),
      std::invalid_argument);
  CHECK_THROWS_AS(
      least_squares(line(p.x, p.y), 50, std::vector<FitParameter>{{.start = std::nan("")}, {}}),
      std::invalid_argument);
  CHECK_THROWS_AS(numerics::student_95(0.0), std::invalid_argument);
}

TEST_CASE("a search that is cut short says so") {
  const auto fit = least_squares(
      numerics::with_slopes<2>([](const std::array<Dual<2>, 2>& q, std::size_t i) {
        const double x = static_cast<double>(i);
        return q[0] * exp(q[1] * x) - 1.0 / (1.0 + x);
      }),
      10, std::vector<FitParameter>{{.start = 5.0}, {.start = 1.0}}, {.most_steps = 2});
  CHECK_FALSE(fit.converged);
}

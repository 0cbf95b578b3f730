#include "ohmdrag/quantity/distribution.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <stdexcept>

#include "ohmdrag/quantity/uncertain.hpp"

using namespace ohmdrag;

namespace {

constexpr double ends[] = {1e-12, 1e-6, 0.025, 0.31, 0.5, 0.77, 0.975, 1.0 - 1e-6, 1.0 - 1e-12};

/// Share of a truncated normal below x, from the complementary error function.
double truncated_share(const Distribution& d, double x) {
  const double sigma = d.half_width / 1.959963984540054;
  const auto share = [&](double v) {
    return 0.5 * std::erfc(-(v - d.mid) / sigma / std::sqrt(2.0));
  };
  return (share(x) - share(d.floor)) / (share(d.ceiling) - share(d.floor));
}

}  // namespace

TEST_CASE("the way a spread is written fixes its 95 % points", "[quantity][derived]") {
  const Interval exact = Distribution{.mid = 3.0}.interval();
  CHECK(exact.exact());
  CHECK(exact.mid == 3.0);

  const Interval normal =
      Distribution{.shape = Shape::normal, .mid = 10.0, .half_width = 2.0}.interval();
  CHECK(normal.low == Approx(8.0).epsilon(1e-12));
  CHECK(normal.mid == 10.0);
  CHECK(normal.high == Approx(12.0).epsilon(1e-12));

  const Interval uniform =
      Distribution{.shape = Shape::uniform, .mid = 25.0, .half_width = 15.0}.interval();
  CHECK(uniform.low == Approx(10.75));
  CHECK(uniform.mid == Approx(25.0));
  CHECK(uniform.high == Approx(39.25));

  const Interval factor =
      Distribution{.shape = Shape::log_normal, .mid = 30.0, .half_width = std::log(3.0)}.interval();
  CHECK(factor.low == Approx(10.0).epsilon(1e-12));
  CHECK(factor.mid == Approx(30.0).epsilon(1e-15));
  CHECK(factor.high == Approx(90.0).epsilon(1e-12));
}

TEST_CASE("a truncated normal follows the rescaled distribution function", "[quantity][derived]") {
  // Floor below, at, and far above the middle; ceiling alone; both.
  struct Row {
    double floor, ceiling;
  };
  const Row row = GENERATE(Row{0.0, 1e300}, Row{1.0, 1e300}, Row{-1e300, 1.5}, Row{0.2, 1.1},
                           Row{3.0, 1e300}, Row{-1e300, -2.0});
  const Distribution d{.shape = Shape::normal,
                       .mid = 1.0,
                       .half_width = 1.5,
                       .floor = row.floor,
                       .ceiling = row.ceiling};
  CAPTURE(row.floor, row.ceiling);
  double last = -1e301;
  for (const double u : ends) {
    const double x = d.quantile(u);
    CAPTURE(u, x);
    CHECK(x >= row.floor);
    CHECK(x <= row.ceiling);
    CHECK(x >= last);
    last = x;
    CHECK(truncated_share(d, x) == Approx(u).margin(1e-11));
  }
}

TEST_CASE("a cut far out in either tail keeps its digits", "[quantity][derived]") {
  // derived: far above the middle a normal tail falls like exp(-z^2/2)/z, so that the median beyond
  // a limit t lies ln 2 / t above it to first order in 1/t^2.
  const double sigma = 1.0 / 1.959963984540054;
  Distribution d{.shape = Shape::normal, .mid = 0.0, .half_width = 1.0, .floor = 20.0 * sigma};
  CHECK((d.quantile(0.5) / sigma - 20.0) == Approx(std::log(2.0) / 20.0).epsilon(0.01));
  d.floor = -1e300;
  d.ceiling = -20.0 * sigma;
  CHECK((d.quantile(0.5) / sigma + 20.0) == Approx(-std::log(2.0) / 20.0).epsilon(0.01));
}

TEST_CASE("uniform and log-normal are cut at the physical range too", "[quantity][derived]") {
  const Distribution uniform{
      .shape = Shape::uniform, .mid = 0.0, .half_width = 1.0, .floor = 0.0, .ceiling = 0.5};
  CHECK(uniform.quantile(0.5) == Approx(0.25));
  const Distribution factor{
      .shape = Shape::log_normal, .mid = 0.8, .half_width = std::log(2.0), .ceiling = 1.0};
  for (const double u : ends) {
    CHECK(factor.quantile(u) <= 1.0);
    CHECK(factor.quantile(u) > 0.0);
  }
  CHECK(factor.quantile(0.5) < 0.8);
  // A floor at or below zero cuts nothing off a positive distribution.
  const Distribution whole{
      .shape = Shape::log_normal, .mid = 0.8, .half_width = std::log(2.0), .floor = 0.0};
  CHECK(whole.quantile(0.5) == Approx(0.8).epsilon(1e-15));
}

TEST_CASE("a draw outside what is defined throws", "[quantity][derived]") {
  const Distribution d{.shape = Shape::normal, .mid = 1.0, .half_width = 0.1};
  for (const double u : {0.0, 1.0, -0.1, 1.1, std::nan("")}) {
    CHECK_THROWS_AS(d.quantile(u), std::invalid_argument);
    CHECK_THROWS_AS(Distribution{.mid = 1.0}.quantile(u), std::invalid_argument);
    CHECK_THROWS_AS(normal_quantile(u), std::invalid_argument);
  }
  CHECK_THROWS_AS(
      (Distribution{.shape = Shape::log_normal, .mid = -1.0, .half_width = 1.0}).quantile(0.5),
      std::invalid_argument);
  CHECK_THROWS_AS(
      (Distribution{.shape = Shape::uniform, .mid = 1, .half_width = 1, .floor = 3}).quantile(0.5),
      std::invalid_argument);
  CHECK_THROWS_AS(
      (Distribution{.shape = Shape::normal, .mid = 1, .half_width = 1, .floor = 1e4}).quantile(0.5),
      std::invalid_argument);
  CHECK_THROWS_AS((Distribution{.shape = Shape::normal, .mid = 1, .half_width = 0}).quantile(0.5),
                  std::invalid_argument);
}

TEST_CASE("scatter is added to a spread, or multiplies it when log-normal", "[quantity][derived]") {
  UncertainNumber n;
  n.spread = {.shape = Shape::normal, .mid = 10.0, .half_width = 2.0};
  CHECK_FALSE(n.certain());
  CHECK(n.at(0.975, 0.1) == Approx(12.0));

  n.scatter = {.shape = Shape::normal, .mid = 0.0, .half_width = 1.0};
  CHECK(n.at(0.5, 0.5) == Approx(10.0));
  CHECK(n.at(0.975, 0.025) == Approx(11.0));
  n.scatter = {.shape = Shape::uniform, .mid = 0.0, .half_width = 1.0};
  CHECK(n.at(0.5, 0.75) == Approx(10.5));
  n.scatter = {.shape = Shape::log_normal, .mid = 1.0, .half_width = std::log(2.0)};
  CHECK(n.at(0.5, 0.975) == Approx(20.0));
  CHECK(n.at(0.975, 0.5) == Approx(12.0));
}

TEST_CASE("spread and scatter together never leave the physical range", "[quantity][derived]") {
  UncertainNumber n;
  n.spread = {.shape = Shape::normal, .mid = 0.3, .half_width = 0.25, .floor = 0.0, .ceiling = 0.6};
  n.scatter = GENERATE(Distribution{.shape = Shape::normal, .mid = 0.0, .half_width = 0.3},
                       Distribution{.shape = Shape::uniform, .mid = 0.0, .half_width = 0.4},
                       Distribution{.shape = Shape::log_normal, .mid = 1.0, .half_width = 2.0});
  std::mt19937 random(20);
  std::uniform_real_distribution<double> u(1e-9, 1.0 - 1e-9);
  for (int i = 0; i < 2000; ++i) {
    const double x = n.at(u(random), u(random));
    REQUIRE(x >= -1e-15);
    REQUIRE(x <= 0.6 + 1e-15);
  }
}

TEST_CASE("a typed uncertain number knows its dimension", "[quantity][derived]") {
  const Uncertain<LineForce> force(LineForce::from_value(15.0), Basis::measured, "rig");
  CHECK(force.dimension == Dimension::line_force);
  CHECK(force.certain());
  CHECK(force.nominal() == LineForce::from_value(15.0));
  CHECK(force.at(0.3, 0.7) == 15.0);
  CHECK(Uncertain<double>(0.3).dimension == Dimension::ratio);
}

TEST_CASE("a triangle has its corners, its mode and its median", "[quantity][derived]") {
  const Distribution t = Distribution::triangle(1.0, 2.0, 5.0);
  CHECK(t.mode() == Approx(2.0));
  // A quarter lies below the mode: (m - a)/(b - a).
  CHECK(t.quantile(0.25) == Approx(2.0));
  CHECK(t.quantile(0.5) == Approx(5.0 - std::sqrt(6.0)));
  CHECK(t.mid == Approx(t.quantile(0.5)));
  CHECK(t.share_below(2.0) == Approx(0.25));
  CHECK(Distribution::triangle(1.0, 1.0, 3.0).quantile(0.75) == Approx(2.0));
  CHECK(Distribution::triangle(1.0, 3.0, 3.0).quantile(0.25) == Approx(2.0));
  Distribution cut = t;
  cut.floor = 2.0;
  CHECK(cut.quantile(1e-9) == Approx(2.0).epsilon(1e-6));
  CHECK_THROWS_AS(Distribution::triangle(1.0, 6.0, 5.0), std::invalid_argument);
  cut.floor = 6.0;
  CHECK_THROWS_AS(cut.quantile(0.5), std::invalid_argument);
}

TEST_CASE("the share below a quantile is its share", "[quantity][derived]") {
  Distribution d = GENERATE(Distribution{.shape = Shape::normal, .mid = 3.0, .half_width = 1.0},
                            Distribution{.shape = Shape::uniform, .mid = 3.0, .half_width = 1.0},
                            Distribution{.shape = Shape::log_normal, .mid = 3.0, .half_width = 1.0},
                            Distribution::triangle(1.0, 2.0, 5.0));
  if (d.shape == Shape::normal) d.cut_below = -0.5;
  for (const double u : {0.01, 0.3, 0.5, 0.9, 0.999})
    CHECK(d.share_below(d.quantile(u)) == Approx(u).epsilon(1e-9));
  CHECK(d.share_below(-1.0) == 0.0);
  CHECK(d.share_below(1e6) == 1.0);
}

TEST_CASE("a scatter that is a triangle adds to the value", "[quantity][derived]") {
  UncertainNumber n;
  n.spread.mid = 10.0;
  n.scatter = Distribution::triangle(-1.0, 0.0, 1.0);
  CHECK(n.at(0.5, 0.5) == Approx(10.0));
  CHECK(n.at(0.5, 0.125) == Approx(9.5));
}

#include "ohmdrag/numerics/cubic_grid.hpp"

#include "support/near.hpp"

using ohmdrag::numerics::CubicGrid;

TEST_CASE("a cubic passes through an even grid unchanged", "[numerics]") {
  const CubicGrid grid(-1.0, 3.0, 7);
  const auto cubic = [](double x) { return 2.0 - x + 0.5 * x * x - 0.25 * x * x * x; };
  const std::vector<double> values = grid.values(cubic);
  for (const double x : {-1.0, -0.9, -0.2, 0.0, 0.7, 1.9, 2.95, 3.0}) {
    CAPTURE(x);
    REQUIRE(grid.holds(x));
    CHECK_THAT(grid.place(x).of(values.data()), Catch::Matchers::WithinAbs(cubic(x), 1e-13));
  }
  CHECK_FALSE(grid.holds(3.1));
  CHECK_FALSE(grid.holds(-1.1));
}

TEST_CASE("between the nodes the error is that of Lagrange's remainder", "[numerics]") {
  // Largest product of the four distances: 9/16 h^4 inside, 1 h^4 in an end cell, over 4!.
  // M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 25.2.13 to 25.2.15: 0.024 and
  // 0.042 h^4 f'''' (from memory).
  const CubicGrid grid(0.0, 1.0, 10);
  const auto values = grid.values([](double x) { return std::exp(x); });
  const double h4 = 1e-4;
  double inside = 0.0, at_end = 0.0;
  for (int i = 0; i <= 1000; ++i) {
    const double x = i / 1000.0;
    const double off = std::abs(grid.place(x).of(values.data()) - std::exp(x));
    (x > 0.1 && x < 0.9 ? inside : at_end) = std::max(x > 0.1 && x < 0.9 ? inside : at_end, off);
  }
  CHECK(inside <= 0.024 * h4 * std::exp(1.0));
  CHECK(at_end <= 0.042 * h4 * std::exp(1.0));
  CHECK(inside > 0.01 * h4);
}

TEST_CASE("figures that lie side by side share a place", "[numerics]") {
  const CubicGrid grid(0.0, 3.0, 3);
  const std::vector<double> pairs{0.0, 1.0, 1.0, 3.0, 2.0, 5.0, 3.0, 7.0};
  const auto place = grid.place(1.25);
  CHECK_THAT(place.of(pairs.data(), 2), Catch::Matchers::WithinAbs(1.25, 1e-14));
  CHECK_THAT(place.of(pairs.data() + 1, 2), Catch::Matchers::WithinAbs(3.5, 1e-14));
}

TEST_CASE("a grid without a range or with too few cells is refused", "[numerics]") {
  CHECK_THROWS_AS(CubicGrid(1.0, 1.0, 4), std::invalid_argument);
  CHECK_THROWS_AS(CubicGrid(0.0, 1.0, 2), std::invalid_argument);
}

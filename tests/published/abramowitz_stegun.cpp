// M. Abramowitz, I. A. Stegun (eds.), Handbook of Mathematical Functions, National Bureau of
// Standards Applied Mathematics Series 55 (1964), chapter 26, tables 26.1 (normal probability
// function P(x)) and 26.5 (x for given tail Q(x)). The values are from memory of those tables.

#include <catch2/catch.hpp>

#include "ohmdrag/quantity/distribution.hpp"

using namespace ohmdrag;

TEST_CASE("the normal quantile inverts the printed probability function", "[published][formula]") {
  struct Row {
    double x;
    double printed_share;
    double tolerance;  ///< absolute in x: half a unit of the last digit over the density at x
  };
  const Row row = GENERATE(Row{0.5, 0.6914624613, 2e-10}, Row{1.0, 0.8413447461, 3e-10},
                           Row{2.0, 0.9772498681, 1e-9}, Row{3.0, 0.9986501020, 1.2e-8});
  CAPTURE(row.x);
  CHECK(normal_quantile(row.printed_share) == Approx(row.x).margin(row.tolerance));
  CHECK(normal_quantile(1.0 - row.printed_share) == Approx(-row.x).margin(row.tolerance));
}

TEST_CASE("the normal quantile gives the printed deviates of a tail", "[published][formula]") {
  struct Row {
    double tail;
    double printed;
  };
  const Row row = GENERATE(Row{0.025, 1.95996}, Row{0.05, 1.64485}, Row{0.01, 2.32635},
                           Row{0.005, 2.57583}, Row{0.001, 3.09023});
  CAPTURE(row.tail);
  CHECK(normal_quantile(1.0 - row.tail) == Approx(row.printed).margin(5e-6));
}

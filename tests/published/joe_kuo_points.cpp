#include <catch2/catch.hpp>
#include <vector>

#include "ohmdrag/numerics/quasi_random.hpp"

// S. Joe, F. Y. Kuo, Constructing Sobol sequences with better two-dimensional projections, SIAM J.
// Sci. Comput. 30 (2008) 2635-2654, direction numbers new-joe-kuo-6: the first ten points in three
// dimensions and the first three in ten that go with them (as read in public test data). Exact but
// for the half cell of 2^-33 that keeps our points off the edges.

using ohmdrag::numerics::QuasiRandom;

TEST_CASE("the first points of the sequence of Joe and Kuo", "[published][printed]") {
  const std::vector<std::vector<double>> in_three{{0, 0, 0},
                                                  {0.5, 0.5, 0.5},
                                                  {0.75, 0.25, 0.25},
                                                  {0.25, 0.75, 0.75},
                                                  {0.375, 0.375, 0.625},
                                                  {0.875, 0.875, 0.125},
                                                  {0.625, 0.125, 0.875},
                                                  {0.125, 0.625, 0.375},
                                                  {0.1875, 0.3125, 0.9375},
                                                  {0.6875, 0.8125, 0.4375}};
  const std::vector<std::vector<double>> in_ten{
      {0, 0, 0, 0, 0, 0, 0, 0, 0, 0},
      {0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5},
      {0.75, 0.25, 0.25, 0.25, 0.75, 0.75, 0.25, 0.75, 0.75, 0.75}};
  for (const auto& expected : {in_three, in_ten}) {
    const QuasiRandom points(expected.front().size());
    for (std::size_t i = 0; i < expected.size(); ++i)
      for (std::size_t d = 0; d < points.dimensions(); ++d) {
        CAPTURE(i, d);
        CHECK(points.value(d, i) == expected[i][d] + 0x1p-33);
      }
  }
}
